#pragma once
#include <array>
#include <cstdint>
#include <vector>

#include "core/base/vec.h"
#include "core/surface/surface_mesh.h"

namespace tearline::hull {
struct Hull;
}

namespace tearline::plan {

/// The hull near the repair, for pictures.
struct HullView {
    surface::SurfaceMesh near;       ///< the patch mesh about the footprint
    std::vector<Vec3> far_vertices;  ///< [mm] the whole hull, coarse
    std::vector<std::array<std::int32_t, 3>> far_triangles;
};

/// The whole hull with few enough triangles to draw one by one (`far_*` of a view).
///
/// Vertices in one cell of a grid become one; models that are coarse already stay as they are.
[[nodiscard]] HullView coarse_view(const hull::Hull& hull, std::size_t most_triangles = 4000);

}  // namespace tearline::plan
