#pragma once
#include <vector>

#include "core/base/text_room.h"
#include "core/drawing/drawing.h"

namespace tearline::drawing {

/// Puts words on a drawing one after the other, each where it stands on the least.
class WordPlacer {
public:
    /// @param drawing  with all its lines and the words whose place is settled
    explicit WordPlacer(Drawing& drawing);

    struct Place {
        Drawing::Text text;
        double cost = 0.0;  ///< [-] of the place itself, in the measure of TextRoom::cost
    };

    static constexpr double anywhere = 1e300;

    /// Adds the words at the place of least cost, of equal ones the first.
    ///
    /// @param most  [-] where every place costs as much, there are no words
    /// @return      whether there are
    bool put(const std::vector<Place>& places, double most = anywhere);

    /// Words along a loop, about every `spacing` mm where it is free and at least once, to the left
    /// of it; in small letters where lines run close together.
    void along(const Loop2& loop, const std::string& text, double spacing);

    /// Words along a straight line, near its end; none where they would stand on anything.
    void along_end(const Vec2& middle, const Vec2& end, const std::string& text);

private:
    bool along(const Loop2& loop, const std::string& text, double height, double spacing,
               double most);

    Drawing* drawing_;
    TextRoom room_;
};

/// Upright words round a middle.
[[nodiscard]] Drawing::Text upright_words(const Vec2& middle, const std::string& text,
                                          double height);

/// Words along a direction round a middle, turned so that they do not stand on their head.
[[nodiscard]] Drawing::Text words_along(const Vec2& middle, const Vec2& way,
                                        const std::string& text, double height);

/// Where the words of an arrow may stand: beyond its tip, else beside it.
[[nodiscard]] std::vector<WordPlacer::Place> beside_arrow(const Vec2& tail, const Vec2& tip,
                                                          const std::string& text);

/// Where the word of a match tick may stand: beyond its inner end, beside it, beyond the outer.
[[nodiscard]] std::vector<WordPlacer::Place> beside_tick(const Vec2& inner, const Vec2& outer,
                                                         const std::string& text);

/// Where the words of a tape's tick may stand: as a tick's, else alongside it inside the edge.
[[nodiscard]] std::vector<WordPlacer::Place> beside_tape(const Vec2& inner, const Vec2& outer,
                                                         const std::string& text);

/// Along a line between two arrow heads, above it or below.
[[nodiscard]] std::vector<WordPlacer::Place> beside_fibre(const Vec2& from, const Vec2& to,
                                                          const std::string& text);

/// Beside a small ring, upright.
[[nodiscard]] std::vector<WordPlacer::Place> beside_ring(const Loop2& ring,
                                                         const std::string& text);

/// Along a closed line, inside it; smaller, then outside it, where there is no room.
[[nodiscard]] std::vector<WordPlacer::Place> beside_edge(const Loop2& loop,
                                                         const std::string& text);

}  // namespace tearline::drawing
