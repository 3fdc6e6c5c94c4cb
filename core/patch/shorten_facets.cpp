#include "core/patch/shorten_facets.h"

#include "core/remesh/remesh.h"
#include "core/surface/patch_index.h"

namespace tearline::patch {
namespace {

constexpr double long_facet = 32.0;  ///< [-] of the ball's radius: what is less costs little

bool has_long_facets(const remesh::RemeshMesh& mesh, double length) {
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3; ++i)
            if (mesh.length2({t, i}) > length * length) return true;
    return false;
}

}  // namespace

void shorten_facets(CroppedHull& cropped, const Vec3& centre, double radius, const Vec3& seed) {
    remesh::RemeshMesh& mesh = cropped.mesh;
    if (!has_long_facets(mesh, long_facet * radius)) return;
    remesh::RemeshOptions options;
    options.edge = options.least_edge = radius;
    remesh::set_sizes(mesh, *cropped.carrier, options);
    remesh::split_long_edges(mesh, *cropped.carrier, options);
    mesh.compact();
    PerId<TriangleId, bool> remove(mesh.triangle.size());
    for (const TriangleId t : mesh.triangle.ids())
        remove[t] =
            !meets_ball({mesh.point(t, 0), mesh.point(t, 1), mesh.point(t, 2)}, centre, radius);
    remove_triangles(mesh, remove);
    const surface::SurfaceMesh plain = plain_mesh(mesh);
    const surface::BoxTree tree = surface::build_box_tree(plain.position, plain.triangle);
    keep_component(
        mesh, surface::nearest_triangle(tree, plain.position, plain.triangle, seed).triangle);
}

}  // namespace tearline::patch
