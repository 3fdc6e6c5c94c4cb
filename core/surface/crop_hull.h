#pragma once
#include <memory>

#include "core/hull/hull.h"
#include "core/surface/carrier.h"
#include "core/surface/remesh_mesh.h"

namespace tearline::surface {

/// The hull's own triangles in a ball, ready for remeshing, with what carries points to it.
struct CroppedHull {
    RemeshMesh mesh;
    std::shared_ptr<const Carrier> carrier;
};

/// Takes the hull's triangles that meet a ball.
[[nodiscard]] CroppedHull crop_hull(const hull::Hull& hull, const Vec3& centre, double radius);

/// Removes triangles, by their number in mesh.triangle; what then lacks a neighbour becomes rim.
void remove_triangles(RemeshMesh& mesh, const std::vector<bool>& remove);

/// Keeps the connected component that holds the triangle, and of triangles that touch in a mere
/// vertex one side only.
void keep_component(RemeshMesh& mesh, std::int32_t triangle);

/// Positions and triangles with chord lengths, for marching and searching.
[[nodiscard]] SurfaceMesh plain_mesh(const RemeshMesh& mesh);

}  // namespace tearline::surface
