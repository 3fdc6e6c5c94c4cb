#pragma once
#include <optional>
#include <span>

#include "core/parallel/parallel_surface.h"

namespace tearline::parallel {

/// A point that follows one sheet of the base surface from a crease outwards.
struct SheetFoot {
    Vec2 chart{0, 0};  ///< [mm]
    SheetPoint point;  ///< at `chart`
};

/// A ridge point: both sheets reach depth there.
struct RidgePoint {
    SheetFoot left, right;   ///< the base point of each sheet
    Vec3 position{0, 0, 0};  ///< [mm] at depth
};

/// A plane square to the crease.
struct Section {
    Vec3 point;   ///< [mm]
    Vec3 normal;  ///< unit, along the crease
};

/// Finds the ridge point in a section: the feet a on the left sheet, b on the right with
/// a - d(a) n(a) = b - d(b) n(b).
///
/// Each step meets the two offset tangent planes with the section and carries the feet under the
/// point found: exact at once on planes, geometric with depth x curvature elsewhere.
/// @param start  feet to start from; their normals tell the two sheets apart
/// @return nothing when the sheets hardly turn or the steps do not settle
[[nodiscard]] std::optional<RidgePoint> find_ridge(const SurfaceAtChart& at,
                                                   const DepthAtChart& depth,
                                                   const Section& section, RidgePoint start);

/// Moves a foot by a step in space along its tangent plane.
///
/// @param others  normals of the sheets that the foot must not land on
void move_foot(const SurfaceAtChart& at, SheetFoot& foot, const Vec3& step,
               std::span<const Vec3> others);

/// The chart step that moves a foot by a step in space.
[[nodiscard]] Vec2 chart_step(const SheetPoint& point, const Vec3& step);

}  // namespace tearline::parallel
