#pragma once
#include <memory>

#include "core/remesh/remesh_mesh.h"
#include "core/surface/carrier.h"

namespace tearline::patch {

/// Carries points to the smooth surface through the vertices of a mesh that was read.
///
/// Normals are rebuilt at the vertices, on both sides of creases; each facet is then a curved cubic
/// triangle, so that a coarse STL measures arcs and not chords.
/// @param mesh  as read; creases and hull ends become its kept edges
/// @source  Max, Weights for computing vertex normals, J. Graphics Tools 4 (1999): exact on
/// spheres;
///          Vlachos et al., Curved PN triangles (2001)
[[nodiscard]] std::shared_ptr<const surface::Carrier> make_mesh_carrier(remesh::RemeshMesh& mesh);

}  // namespace tearline::patch
