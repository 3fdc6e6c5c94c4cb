#pragma once
#include <array>
#include <memory>

#include "core/hull/hull.h"
#include "core/remesh/remesh_mesh.h"
#include "core/surface/carrier.h"

namespace tearline::patch {

/// The hull's own triangles in a ball, ready for remeshing, with what carries points to it.
struct CroppedHull {
    remesh::RemeshMesh mesh;
    std::shared_ptr<const surface::Carrier> carrier;
};

/// Whether a triangle has a point in a ball.
[[nodiscard]] bool meets_ball(const std::array<Vec3, 3>& corners, const Vec3& centre,
                              double radius);

/// Takes the hull's triangles that meet a ball.
[[nodiscard]] CroppedHull crop_hull(const hull::Hull& hull, const Vec3& centre, double radius);

/// Removes triangles; what then lacks a neighbour becomes rim.
void remove_triangles(remesh::RemeshMesh& mesh, const PerId<TriangleId, bool>& remove);

/// Keeps the connected component that holds the triangle, and of triangles that touch in a mere
/// vertex one side only.
void keep_component(remesh::RemeshMesh& mesh, TriangleId triangle);

/// Positions and triangles with chord lengths, for marching and searching.
[[nodiscard]] surface::SurfaceMesh plain_mesh(const remesh::RemeshMesh& mesh);

}  // namespace tearline::patch
