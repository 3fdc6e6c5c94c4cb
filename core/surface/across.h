#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "core/surface/surface_mesh.h"

/// What is asked of a mesh by one who has its neighbours() already.
namespace tearline::surface {

/// Per triangle and edge i -> i+1 the triangle across it, or -1.
using Across = std::span<const std::array<std::int32_t, 3>>;

void set_arc_lengths(SurfaceMesh& mesh, Across across);
[[nodiscard]] double curved_area(const SurfaceMesh& mesh, Across across);
[[nodiscard]] std::size_t count_parts(Across across);
std::vector<std::int32_t> part_pinched_vertices(SurfaceMesh& mesh, Across across);

}  // namespace tearline::surface
