#pragma once
#include "core/surface/patch.h"

namespace tearline::plies {

/// A chart point on the patch and its location.
struct NearLocation {
    surface::Location at;
    Vec2 chart{0, 0};  ///< [mm] the point itself, or the nearest one of the rim
};

/// Locates a chart point, or the nearest point of the patch's rim when it lies outside by rounding
/// or by the sagitta of a rim edge.
///
/// @pre the point is in the domain or within a few millimetres of it
[[nodiscard]] NearLocation locate_near(const surface::Patch& patch, const Vec2& point);

/// The chart point as a location of the given triangle, drawn into it where it lies outside.
[[nodiscard]] surface::Location in_triangle(const surface::Patch& patch, TriangleId triangle,
                                            const Vec2& point);

}  // namespace tearline::plies
