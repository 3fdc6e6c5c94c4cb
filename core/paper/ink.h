#pragma once
#include <vector>

#include "core/drawing/drawing.h"
#include "core/plane/box.h"

/// What a drawing takes on paper.
namespace tearline::paper {

using drawing::Drawing;
using plane::Box;

/// The upright box round words.
[[nodiscard]] Box box_round(const Drawing::Text& text);

/// Round all ink: lines and the boxes of words.
[[nodiscard]] Box bounds(const Drawing& drawing);

/// The turns that a drawing may have on its page [deg].
[[nodiscard]] std::vector<double> turns_of(const Drawing& drawing);

/// Points no farther than `spacing` apart on all ink: lines and the outlines of words' boxes.
[[nodiscard]] std::vector<Vec2> ink_points(const Drawing& drawing, double spacing);

/// The same, but one point only in each square of that size: enough to search with.
[[nodiscard]] std::vector<Vec2> thin_ink(const Drawing& drawing, double spacing);

/// Whether any ink lies inside the box: lines crossing it or words' boxes meeting it.
[[nodiscard]] bool has_ink(const Drawing& drawing, const Box& box);

}  // namespace tearline::paper
