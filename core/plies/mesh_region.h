#pragma once
#include <functional>
#include <vector>

#include "core/base/outline.h"
#include "core/surface/patch.h"

namespace tearline::plies {

/// Part of the base surface inside a chart region, meshed anew with near-equilateral triangles.
struct RegionMesh {
    surface::SurfaceMesh mesh;                   ///< on the base surface
    std::vector<Vec2> chart;                     ///< [mm] per vertex
    std::vector<surface::Location> at;           ///< per vertex, on the patch
    std::vector<std::array<bool, 3>> crease;     ///< per triangle and edge: creases of the patch
};

struct RegionMeshOptions {
    std::size_t triangles = 4000;  ///< [-] about how many; more where the radius is small
};

/// Meshes a chart region: its outline and the patch's creases are kept as edges.
[[nodiscard]] Result<RegionMesh> mesh_region(const surface::Patch& patch, const Region2& region,
                                             const RegionMeshOptions& options = {});

}  // namespace tearline::plies
