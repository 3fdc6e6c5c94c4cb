#pragma once
#include "core/surface/patch.h"

namespace tearline::surface {

/// A chart point on the patch and its location.
struct NearLocation {
    Location at;
    Vec2 chart{0, 0};  ///< [mm] the point itself, or the nearest one of the rim
};

/// Locates a chart point, or the nearest point of the patch's rim when it lies outside by rounding
/// or by the sagitta of a rim edge.
///
/// @pre the point is in the domain or within a few millimetres of it
[[nodiscard]] NearLocation locate_near(const Patch& patch, const Vec2& point);

/// The chart point as a location of the given triangle, drawn into it where it lies outside.
[[nodiscard]] Location in_triangle(const Patch& patch, TriangleId triangle, const Vec2& point);

/// A direction in the chart as a direction in space, by the triangle's own flat map.
[[nodiscard]] Vec3 space_direction(const Patch& patch, TriangleId triangle, const Vec2& direction);

/// The direction in which a location moves when its weights change at these rates, carried from the
/// facet to the surface: unit, square to the normal there.
[[nodiscard]] Vec3 moving_direction(const Patch& patch, const Location& at, const Vec3& rates);

/// A direction in space as a direction in the chart; its part along the facet's normal is left out.
[[nodiscard]] Vec2 chart_direction(const Patch& patch, TriangleId triangle, const Vec3& direction);

/// Unit normal of a triangle's plane, towards the laying side.
[[nodiscard]] Vec3 facet_normal(const SurfaceMesh& mesh, TriangleId triangle);

/// The normal between a triangle's corner normals at a location.
[[nodiscard]] Vec3 corner_normal(const SurfaceMesh& mesh, const Location& at);

}  // namespace tearline::surface
