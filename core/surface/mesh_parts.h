#pragma once
#include <cstddef>
#include <cstdint>
#include <vector>

#include "core/surface/surface_mesh.h"

namespace tearline::surface {

/// Which connected part each triangle belongs to, counted from 0; parts hang together by edges.
[[nodiscard]] std::vector<std::int32_t> mesh_parts(const SurfaceMesh& mesh);

/// How many parts a mesh has.
[[nodiscard]] std::size_t count_parts(const SurfaceMesh& mesh);

/// Gives every fan of triangles its own vertex where several fans touch in one.
///
/// @return  per vertex of the mesh as it is now: the vertex it was before; the first ones are
///          unchanged
std::vector<std::int32_t> part_pinched_vertices(SurfaceMesh& mesh);

}  // namespace tearline::surface
