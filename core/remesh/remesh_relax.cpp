#include <Eigen/Geometry>

#include "core/remesh/remesh.h"

namespace tearline::remesh {
namespace {

/// Whether every triangle round the vertex keeps facing as it did when the vertex moves.
bool keeps_facing(const RemeshMesh& mesh, const std::vector<Corner>& ring, const Vec3& to) {
    for (const Corner& c : ring) {
        const Vec3& p = mesh.point(c.triangle, c.corner + 1);
        const Vec3& q = mesh.point(c.triangle, c.corner + 2);
        const Vec3 after = (p - to).cross(q - to);
        const Vec3 before = mesh.area_vector(c.triangle);
        if (!(after.dot(before) > 0.1 * before.squaredNorm())) return false;
    }
    return true;
}

}  // namespace

void relax(RemeshMesh& mesh, const surface::Carrier& carrier) {
    std::vector<Corner> ring;
    for (const VertexId v : mesh.vertex.ids()) {
        RemeshVertex& vertex = mesh.vertex[v];
        if (!vertex.triangle.valid() || !mesh.ring(v, ring)) continue;
        const surface::Anchor anchor = mesh.triangle[ring[0].triangle].anchor[ring[0].corner];
        bool free = true;
        Vec3 sum = Vec3::Zero();
        double weight = 0.0;
        for (const Corner& c : ring) {
            const RemeshTriangle& t = mesh.triangle[c.triangle];
            if (t.kept[c.corner].kept() || !carrier.same(t.anchor[c.corner], anchor)) {
                free = false;
                break;
            }
            const RemeshVertex& p = mesh.vertex[t.vertex[(c.corner + 1) % 3]];
            const RemeshVertex& q = mesh.vertex[t.vertex[(c.corner + 2) % 3]];
            // Centroids of the triangles round it, by area counted in wished sizes.
            const double size = vertex.size + p.size + q.size;
            const double w = mesh.area_vector(c.triangle).norm() / (size * size);
            sum += w * (vertex.position + p.position + q.position) / 3.0;
            weight += w;
        }
        if (!free || !(weight > 0.0)) continue;
        // The centroid of centroids moves a third as far as the neighbours' own middle would.
        const Vec3 target = vertex.position + 1.4 * (sum / weight - vertex.position);
        const surface::Carried moved = carrier.carry(anchor, target);
        if (!keeps_facing(mesh, ring, moved.position)) continue;
        vertex.position = moved.position;
        for (const Corner& c : ring) mesh.triangle[c.triangle].anchor[c.corner] = moved.anchor;
    }
}

void remesh(RemeshMesh& mesh, const surface::Carrier& carrier, const RemeshOptions& options) {
    constexpr double shortest = 0.75;  // of the wished length
    set_sizes(mesh, carrier, options);
    collapse_short_edges(mesh, carrier, 0.5 * shortest);  // of a dense scan most go here
    mesh.compact();
    flip_to_delaunay(mesh, carrier);
    split_long_edges(mesh, carrier, options);
    for (int round = 0; round < 3; ++round) {
        collapse_short_edges(mesh, carrier, shortest);
        split_long_edges(mesh, carrier, options);
        flip_to_delaunay(mesh, carrier);
        relax(mesh, carrier);
    }
    flip_to_delaunay(mesh, carrier);
    mesh.compact();
}

}  // namespace tearline::remesh
