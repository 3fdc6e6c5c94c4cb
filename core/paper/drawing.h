#pragma once
#include <string>
#include <vector>

#include "core/base/outline.h"

namespace tearline::paper {

/// What a line is for; core/drawing/line_style.h has its width and dashes.
enum class Pen {
    tear,       ///< part the mat here
    cut,        ///< cut here
    net,        ///< edge of the full-thickness ply
    ring,       ///< a ring of the grind guide
    next_edge,  ///< the edge of the next smaller ply
    mark,       ///< thin: datum, arrows, ticks, tables
    relief,     ///< slit or dart
};

struct Stroke {
    std::vector<Vec2> points;  ///< [mm]
    bool closed = false;
    Pen pen = Pen::mark;
};

/// A line of text round its middle; the painter squeezes it into its box and never lets it grow
/// out.
struct Words {
    Vec2 middle{0, 0};    ///< [mm]
    double height = 4.0;  ///< [mm] of a line
    double angle = 0.0;   ///< [deg] counter-clockwise
    double width = 0.0;   ///< [mm] of the box
    std::string text;     ///< UTF-8
    bool bold = false;
    bool from_left = false;  ///< starts at the box's left end instead of standing in its middle
};

/// How a drawing may lie on its page.
enum class Lie {
    any_turn,
    right_angles,  ///< tables
    up_on_top,     ///< templates: as their reader sees the place on the hull
};

/// Something to put on paper at full size.
struct Drawing {
    std::string id;         ///< as said on every page that shows some of it
    std::string line_word;  ///< "TEAR", "CUT", or what else the lines are for
    std::vector<Stroke> strokes;
    std::vector<Words> words;
    Lie lie = Lie::any_turn;
};

/// Box about something, empty when low > high.
struct Box {
    Vec2 low{1.0, 1.0}, high{-1.0, -1.0};
    [[nodiscard]] bool empty() const { return low.x() > high.x(); }
    [[nodiscard]] Vec2 size() const { return empty() ? Vec2(0, 0) : Vec2(high - low); }
    void add(const Vec2& point);
};

/// Words with the width of box that their text needs, a guess by character that the painter keeps
/// to.
///
/// @param height  [mm] of a line
[[nodiscard]] Words words_at(const Vec2& middle, double height, std::string text,
                             double angle = 0.0);

/// The four corners of the box of words.
[[nodiscard]] Loop2 corners(const Words& words);

/// Strokes' points and words' corners.
[[nodiscard]] Box bounds(const Drawing& drawing);

/// The drawing turned counter-clockwise about its origin, then moved.
[[nodiscard]] Drawing placed(const Drawing& drawing, double turn_degrees, const Vec2& shift);

/// The turns that a drawing may have on its page, `step` apart and less than `whole` [deg].
[[nodiscard]] std::vector<double> turns_of(const Drawing& drawing, double step, double whole);

/// The drawing mirrored at the y axis; words stay readable and say so.
[[nodiscard]] Drawing mirrored(const Drawing& drawing);

/// Points no farther than `spacing` apart on all ink: strokes and the outlines of word boxes.
[[nodiscard]] std::vector<Vec2> ink_points(const Drawing& drawing, double spacing);

/// The same, but one point only in each square of that size: enough to search with.
[[nodiscard]] std::vector<Vec2> thin_ink(const Drawing& drawing, double spacing);

/// Whether any ink lies inside the box: strokes crossing it or word boxes meeting it.
[[nodiscard]] bool has_ink(const Drawing& drawing, const Box& box);

}  // namespace tearline::paper
