#pragma once
#include <functional>
#include <vector>

#include "core/base/result.h"
#include "core/plies/mesh_region.h"
#include "core/warnings/warning.h"

namespace tearline::plies {

/// The surface that a ply's mid-plane lies on, with the way back to the base surface.
struct LaySurface {
    surface::SurfaceMesh mesh;  ///< the lay surface with its own normals and arc lengths
    std::vector<Vec3> base;     ///< [mm] per vertex: the base point it lies below or above; on a
                                ///< ridge, where two sheets meet, the crease's
    std::vector<Vec2> chart;    ///< [mm] per vertex: of `base`
    std::vector<std::array<Vec2, 3>> corner_chart;  ///< [mm] per corner: the base point of its own
                                                    ///< sheet; differs from `chart` on ridges
    std::vector<std::array<bool, 3>> crease;  ///< per triangle and edge: the surface turns there
    double area = 0.0;                        ///< [mm2] of the curved surface
    Warnings warnings;                        ///< creases met, with radius and place
};

/// Depth of a lay surface below the base surface at a place of the chart [mm], negative above it.
using LayDepth = std::function<double(const Vec2& chart_point)>;

/// The points at the given depth from the base surface: trimmed where sheets meet (inside a convex
/// crease), opened as an arc of radius |depth| on the other side
/// (core/parallel/parallel_surface.h).
///
/// Where the outline crosses a trimmed crease it jumps across the lost strip: at the same ridge
/// point when it crosses squarely, else with a short run along the ridge; where the crease opens it
/// follows the arc.
/// @param middle  [mm] chart point of the middle of the damage
/// @error no_safe_answer  trimming takes the middle of the damage with much of the ply, splits the
///                        ply, or the surface folds at depth; the message names the place
[[nodiscard]] Result<LaySurface> lay_surface(const surface::Patch& patch, const RegionMesh& region,
                                             const LayDepth& depth, const Vec2& middle);

}  // namespace tearline::plies
