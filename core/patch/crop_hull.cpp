#include "core/patch/crop_hull.h"

#include <algorithm>
#include <unordered_map>

#include "core/patch/cad_carrier.h"
#include "core/patch/mesh_carrier.h"
#include "core/surface/patch_index.h"

namespace tearline::patch {
namespace {

std::uint64_t edge_key(std::int32_t a, std::int32_t b) {
    return (static_cast<std::uint64_t>(std::min(a, b)) << 32) |
           static_cast<std::uint32_t>(std::max(a, b));
}

/// The hull's triangles that meet the ball, with vertices numbered anew.
struct Selection {
    PerId<TriangleId, std::int32_t> triangle;  ///< of the hull
    PerId<VertexId, std::int32_t> vertex;      ///< of the hull
    std::vector<VertexId> number;              ///< by hull vertex
};

Selection select(const hull::Hull& hull, const Vec3& centre, double radius) {
    Selection s;
    s.number.resize(hull.vertices.size());
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        const auto& v = hull.triangles[t];
        if (!meets_ball({hull.vertices[v[0]], hull.vertices[v[1]], hull.vertices[v[2]]}, centre,
                        radius))
            continue;
        s.triangle.add(t);
        for (const std::int32_t i : v)
            if (!s.number[i].valid()) s.number[i] = s.vertex.add(i);
    }
    return s;
}

remesh::RemeshMesh bare_mesh(const hull::Hull& hull, const Selection& s) {
    remesh::RemeshMesh mesh;
    mesh.vertex.resize(s.vertex.size());
    for (const VertexId v : s.vertex.ids()) mesh.vertex[v].position = hull.vertices[s.vertex[v]];
    mesh.triangle.resize(s.triangle.size());
    for (const TriangleId t : s.triangle.ids())
        for (int i = 0; i < 3; ++i)
            mesh.triangle[t].vertex[i] = s.number[hull.triangles[s.triangle[t]][i]];
    mesh.connect();
    return mesh;
}

/// Edges of selected triangles that no other triangle of the whole hull shares.
PerId<TriangleId, std::array<bool, 3>> ends_of_hull(const hull::Hull& hull, const Selection& s,
                                                    const remesh::RemeshMesh& mesh) {
    // Only the rim of the selection can end the hull: count its edges in the triangles round it.
    std::unordered_map<std::uint64_t, int> uses;
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3; ++i)
            if (!mesh.triangle[t].neighbour[i].valid()) {
                const auto& v = hull.triangles[s.triangle[t]];
                uses[edge_key(v[i], v[(i + 1) % 3])] = 0;
            }
    for (const auto& v : hull.triangles) {
        if (!s.number[v[0]].valid() && !s.number[v[1]].valid()) continue;
        for (int i = 0; i < 3; ++i) {
            const auto found = uses.find(edge_key(v[i], v[(i + 1) % 3]));
            if (found != uses.end()) ++found->second;
        }
    }
    PerId<TriangleId, std::array<bool, 3>> ends(mesh.triangle.size());
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3; ++i)
            if (!mesh.triangle[t].neighbour[i].valid()) {
                const auto& v = hull.triangles[s.triangle[t]];
                ends[t][i] = uses[edge_key(v[i], v[(i + 1) % 3])] == 1;
            }
    return ends;
}

CroppedHull crop_cad(const hull::Hull& hull, const Selection& s) {
    CroppedHull out{bare_mesh(hull, s), nullptr};
    auto carrier = std::make_shared<CadCarrier>(hull.cad);
    const auto ends = ends_of_hull(hull, s, out.mesh);
    std::unordered_map<std::uint64_t, const hull::EdgeOnCad*> on_cad;
    for (const hull::EdgeOnCad& e : hull.cad_edges)
        if (s.number[e.from].valid() && s.number[e.to].valid())
            on_cad.emplace(edge_key(e.from, e.to), &e);
    std::unordered_map<std::uint64_t, std::int32_t> straight;
    PerId<VertexId, std::int32_t> looked_at(out.mesh.vertex.size(), -1);
    for (const TriangleId t : out.mesh.triangle.ids()) {
        remesh::RemeshTriangle& triangle = out.mesh.triangle[t];
        const std::int32_t source = s.triangle[t];
        const auto& v = hull.triangles[source];
        for (int i = 0; i < 3; ++i) {
            triangle.anchor[i] = {hull.face[source].value, hull.corner_uv[source][i]};
            // One look at a vertex from each face will do.
            std::int32_t& looked = looked_at[triangle.vertex[i]];
            if (looked != hull.face[source].value) carrier->note_pole(triangle.anchor[i]);
            looked = hull.face[source].value;
            const std::int32_t a = v[i];
            const std::int32_t b = v[(i + 1) % 3];
            const bool end = ends[t][i];
            const TriangleId n = triangle.neighbour[i];
            const auto found = on_cad.find(edge_key(a, b));
            if (found != on_cad.end()) {
                const hull::EdgeOnCad& e = *found->second;
                triangle.kept[i] = {e.edge.value, e.parameter_from, e.parameter_to, end};
                if (e.from != a) std::swap(triangle.kept[i].from, triangle.kept[i].to);
            } else if (end || (n.valid() && hull.face[s.triangle[n]] != hull.face[source])) {
                // Faces sewn without a common edge: the mesh's own straight edge is all there is.
                const auto [known, fresh] = straight.try_emplace(edge_key(a, b), 0);
                if (fresh)
                    known->second = carrier->add_straight(hull.vertices[std::min(a, b)],
                                                          hull.vertices[std::max(a, b)]);
                triangle.kept[i] = {known->second, a < b ? 0.0 : 1.0, a < b ? 1.0 : 0.0, end};
            }
        }
    }
    out.carrier = std::move(carrier);
    return out;
}

CroppedHull crop_mesh(const hull::Hull& hull, const Selection& s) {
    CroppedHull out{bare_mesh(hull, s), nullptr};
    const auto ends = ends_of_hull(hull, s, out.mesh);
    for (const TriangleId t : out.mesh.triangle.ids())
        for (int i = 0; i < 3; ++i) {
            remesh::RemeshTriangle& triangle = out.mesh.triangle[t];
            triangle.anchor[i] = {t.value, Vec2(i == 1 ? 1.0 : 0.0, i == 2 ? 1.0 : 0.0)};
            triangle.kept[i].hull_end = ends[t][i];
        }
    out.carrier = make_mesh_carrier(out.mesh);
    return out;
}

}  // namespace

bool meets_ball(const std::array<Vec3, 3>& corners, const Vec3& centre, double radius) {
    const auto& c = corners;
    const Vec3 low = c[0].cwiseMin(c[1]).cwiseMin(c[2]);
    const Vec3 high = c[0].cwiseMax(c[1]).cwiseMax(c[2]);
    if ((low - centre).cwiseMax(centre - high).maxCoeff() > radius) return false;
    const Vec3 w = surface::nearest_weights(c, centre);
    return !((w[0] * c[0] + w[1] * c[1] + w[2] * c[2] - centre).norm() > radius);
}

CroppedHull crop_hull(const hull::Hull& hull, const Vec3& centre, double radius) {
    const Selection s = select(hull, centre, radius);
    return hull.cad ? crop_cad(hull, s) : crop_mesh(hull, s);
}

void remove_triangles(remesh::RemeshMesh& mesh, const PerId<TriangleId, bool>& remove) {
    for (const TriangleId t : mesh.triangle.ids()) {
        if (!mesh.triangle[t].alive()) continue;
        for (auto& n : mesh.triangle[t].neighbour)
            if (n.valid() && remove[n]) n = {};
    }
    for (const TriangleId t : mesh.triangle.ids())
        if (remove[t]) mesh.triangle[t].vertex = {};
    mesh.compact();
}

void keep_component(remesh::RemeshMesh& mesh, TriangleId triangle) {
    PerId<TriangleId, bool> remove(mesh.triangle.size(), true);
    std::vector<TriangleId> stack{triangle};
    remove[triangle] = false;
    while (!stack.empty()) {
        const TriangleId t = stack.back();
        stack.pop_back();
        for (const TriangleId n : mesh.triangle[t].neighbour)
            if (n.valid() && remove[n]) {
                remove[n] = false;
                stack.push_back(n);
            }
    }
    remove_triangles(mesh, remove);
    // Where the surface hangs together by a vertex alone, each part gets a vertex of its own.
    PerId<TriangleId, std::array<bool, 3>> visited(mesh.triangle.size());
    PerId<VertexId, bool> taken(mesh.vertex.size());
    std::vector<remesh::Corner> ring;
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3; ++i) {
            if (visited[t][i]) continue;
            const VertexId v = mesh.triangle[t].vertex[i];
            mesh.vertex[v].triangle = t;
            mesh.ring(v, ring);
            VertexId own = v;
            if (taken[v]) {
                own = mesh.vertex.add(mesh.vertex[v]);
                taken.add(true);
            }
            taken[v] = true;
            for (const remesh::Corner& c : ring) {
                visited[c.triangle][c.corner] = true;
                mesh.triangle[c.triangle].vertex[c.corner] = own;
            }
            mesh.vertex[own].triangle = t;
            if (own != v) mesh.vertex[v].triangle = {};
        }
    for (const TriangleId t : mesh.triangle.ids())
        for (const VertexId v : mesh.triangle[t].vertex) mesh.vertex[v].triangle = t;
}

surface::SurfaceMesh plain_mesh(const remesh::RemeshMesh& mesh) {
    surface::SurfaceMesh out;
    out.position.reserve(mesh.vertex.size());
    for (const auto& v : mesh.vertex) out.position.push_back(v.position);
    out.triangle.reserve(mesh.triangle.size());
    for (const auto& t : mesh.triangle) {
        const auto& v = out.triangle.emplace_back(values(t.vertex));
        std::array<double, 3> length{};
        for (int i = 0; i < 3; ++i)
            length[i] = (out.position[v[(i + 1) % 3]] - out.position[v[i]]).norm();
        out.edge_length.push_back(length);
    }
    return out;
}

}  // namespace tearline::patch
