#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/text_room.h"
#include "core/paper/drawing.h"
#include "core/templates/template.h"

namespace tearline::paper {

/// Puts words on a drawing one after the other, each where it stands on the least.
class WordPlacer {
public:
    /// @param drawing  with all its lines and the words whose place is settled
    explicit WordPlacer(Drawing& drawing);

    struct Place {
        Words words;
        double cost = 0.0;  ///< [-] of the place itself, in the measure of TextRoom::cost
    };

    /// Adds the words at the place of least cost, of equal ones the first.
    ///
    /// @param most  [-] where every place costs more, there are no words
    /// @return      whether there are
    bool put(const std::vector<Place>& places, double most = 1e300);

    /// What a block of words and lines would stand on.
    [[nodiscard]] double cost(const Box& box) const;

    /// The lower left corner of a box that stands on nothing, as near to a point as there is one.
    [[nodiscard]] std::optional<Vec2> free_place(const Region2& inside, const Vec2& size,
                                                 const Vec2& near_to) const;

    /// Words along a loop, about every `spacing` mm where it is free and at least once, to the left
    /// of it; in small letters where lines run close together.
    void along(const Loop2& loop, const std::string& text, double spacing);

    /// The words that stand beside marks.
    void name_marks(const std::vector<templates::Mark>& marks);

    /// Words along a straight line, near its end; none where they would stand on anything.
    void along_end(const Vec2& middle, const Vec2& end, const std::string& text);

private:
    bool along(const Loop2& loop, const Words& words, double spacing, double most);
    void name_mark(const templates::Mark& mark, const std::string& text);
    void name_arrow(const Vec2& tail, const Vec2& tip, const std::string& text, bool level);
    void name_tick(const Vec2& inner, const Vec2& outer, const std::string& text, bool tape);
    void name_ring(const Loop2& ring, const std::string& text);

    Drawing* drawing_;
    TextRoom room_;
};

}  // namespace tearline::paper
