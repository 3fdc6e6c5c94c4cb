#pragma once
#include <string_view>
#include <vector>

#include "core/base/outline.h"

namespace tearline {

/// About how wide a line of text is, by the height of a capital letter [-]: sans serif, as wide as
/// the widest of the common faces.
[[nodiscard]] double letters_width(std::string_view text);

/// [mm] height of a capital from which on templates are lettered in bold
inline constexpr double bold_from = 4.0;

/// The same of a line on a template [mm], bold where it is.
///
/// @param height  [mm] of a capital letter
[[nodiscard]] double text_width(std::string_view text, double height);

/// The room that a line of text takes: a rectangle, turned.
struct TextBox {
    Vec2 middle{0, 0};  ///< [mm]
    Vec2 along{0, 0};   ///< [mm] from the middle to the end of the line
    Vec2 up{0, 0};      ///< [mm] from the middle to its upper side
};

/// Counter-clockwise from the lower left one.
[[nodiscard]] Loop2 corners(const TextBox& box);

/// How far straight words beside a curved line must stand off it so that their ends keep clear
/// [mm].
///
/// @param at          [mm] on the line, where the middle of the words is
/// @param way         unit, from the line to the words
/// @param half_width  [mm] of the words
[[nodiscard]] double stand_off(const Loop2& loop, const Vec2& at, const Vec2& way,
                               double half_width);

/// What is drawn already, for placing words so that they stand on nothing.
class TextRoom {
public:
    /// A line on the drawing.
    ///
    /// @param cost  [-] of words that it runs through
    void add_line(const std::vector<Vec2>& points, bool closed, double cost);
    void add_text(const TextBox& box);

    /// What words at a place would cost: 0 on free paper.
    [[nodiscard]] double cost(const TextBox& box) const;

    /// [-] of words that stand on other words
    static constexpr double on_words = 1000.0;
    /// [-] of words across an edge that the cloth is parted along
    static constexpr double on_edge = 300.0;
    /// [-] of words across any other line
    static constexpr double on_line = 100.0;

private:
    struct Run {  ///< some segments of a line, with the box round them
        std::vector<Vec2> points;
        Vec2 low, high;
    };
    struct Line {
        std::vector<Run> runs;
        double cost;
    };
    std::vector<Line> lines_;
    std::vector<TextBox> texts_;
};

}  // namespace tearline
