#pragma once
#include <functional>
#include <vector>

#include "core/surface/remesh_mesh.h"

namespace tearline::surface {

/// Removes the triangles that are not kept, and what is then loose or hangs on by a vertex only.
///
/// @param keep  whether a triangle stays
void crop(RemeshMesh& mesh, const std::function<bool(std::int32_t triangle)>& keep);

/// Keeps the connected part that holds the given triangle, and no vertex where two fans only touch.
void keep_part_of(RemeshMesh& mesh, std::int32_t triangle);

/// Length of the shortest way along edges from any of the sources to every vertex [mm]; infinite
/// where none leads or beyond `farthest`. Up to an eighth longer than along the surface.
[[nodiscard]] std::vector<double> edge_distances(const RemeshMesh& mesh,
                                                 const std::vector<std::int32_t>& sources,
                                                 double farthest);

}  // namespace tearline::surface
