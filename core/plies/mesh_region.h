#pragma once
#include <functional>
#include <vector>

#include "core/base/outline.h"
#include "core/surface/patch.h"

namespace tearline::plies {

/// Part of the base surface inside a chart region, meshed anew with near-equilateral triangles.
struct RegionMesh {
    surface::SurfaceMesh mesh;                ///< on the base surface
    std::vector<Vec2> chart;                  ///< [mm] per vertex
    std::vector<surface::Location> at;        ///< per vertex, on the patch
    std::vector<Vec2> curvature;              ///< [1/mm] per vertex: least and greatest principal
                                              ///< one, positive where it bulges to the laying side
    std::vector<std::array<bool, 3>> crease;  ///< per triangle and edge: creases of the patch
    std::vector<std::array<bool, 3>> kink;    ///< per triangle and edge: lies on an asked line
};

struct RegionMeshOptions {
    std::size_t triangles = 4000;  ///< [-] about how many; at most 3 times more at small radii
    std::vector<std::vector<Vec2>> lines =
        {};  ///< [mm] chart polylines to keep as edges: where the
             ///< depth has a kink; closed when the ends coincide
};

/// Meshes a chart region: its outline, the patch's creases and the asked lines are kept as edges.
///
/// @param region  [mm] in the patch's chart, inside its domain
/// @error no_safe_answer  the region is too thin to hold a triangle
[[nodiscard]] Result<RegionMesh> mesh_region(const surface::Patch& patch, const Region2& region,
                                             const RegionMeshOptions& options = {});

}  // namespace tearline::plies
