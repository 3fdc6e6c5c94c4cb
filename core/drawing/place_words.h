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

    /// Adds the words at the place of least cost, of equal ones the first. No words, no text.
    void put(const std::vector<Place>& places);

private:
    Drawing* drawing_;
    TextRoom room_;
};

/// The room that words of a drawing take.
[[nodiscard]] TextBox box_of(const Drawing::Text& text);

/// Upright words round a middle.
[[nodiscard]] Drawing::Text upright_words(const Vec2& middle, const std::string& text,
                                          double height);

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
