#pragma once
#include <functional>
#include <vector>

#include "core/base/result.h"
#include "core/base/warning.h"
#include "core/plies/mesh_region.h"

namespace tearline::plies {

/// The surface that a ply's mid-plane lies on, with the way back to the base surface.
struct LaySurface {
    surface::SurfaceMesh mesh;   ///< the lay surface with its own normals and arc lengths
    std::vector<Vec3> base;      ///< [mm] per vertex: the base point it lies below or above
    std::vector<Vec2> chart;     ///< [mm] per vertex
    double area = 0.0;           ///< [mm2] of the curved surface
    Warnings warnings;           ///< creases met, with radius and place
};

/// Depth below the base surface at a place of the chart [mm], negative above it.
using DepthField = std::function<double(const Vec2& chart_point)>;

/// The points at the given depth from the base surface: trimmed where sheets meet (inside a convex
/// crease or a radius tighter than the depth), opened as an arc of radius |depth| on the other side.
///
/// @error no_safe_answer  trimming reaches the middle of the damage or splits the ply
[[nodiscard]] Result<LaySurface> lay_surface(const surface::Patch& patch, const RegionMesh& region,
                                             const DepthField& depth, const Vec2& middle);

}  // namespace tearline::plies
