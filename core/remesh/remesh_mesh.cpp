#include "core/remesh/remesh_mesh.h"

#include <Eigen/Geometry>
#include <stdexcept>

namespace tearline::remesh {

Vec3 RemeshMesh::area_vector(TriangleId t) const {
    const Vec3& a = point(t, 0);
    return (point(t, 1) - a).cross(point(t, 2) - a);
}

int RemeshMesh::edge_in(TriangleId t, VertexId from, VertexId to) const {
    const auto& v = triangle[t].vertex;
    for (int i = 0; i < 3; ++i)
        if (v[i] == from && v[(i + 1) % 3] == to) return i;
    throw std::logic_error("RemeshMesh: neighbours disagree about their edge");
}

void RemeshMesh::connect() {
    surface::SurfaceMesh plain;
    plain.position.resize(vertex.size());
    plain.triangle.reserve(triangle.size());
    for (const auto& t : triangle) plain.triangle.push_back(values(t.vertex));
    const auto across = surface::neighbours(plain);
    for (const TriangleId t : triangle.ids())
        for (int i = 0; i < 3; ++i) {
            triangle[t].neighbour[i] = TriangleId(across[t.index()][i]);
            vertex[triangle[t].vertex[i]].triangle = t;
        }
}

bool RemeshMesh::ring(VertexId v, std::vector<Corner>& out) const {
    out.clear();
    const auto corner_of = [&](TriangleId t) {
        const auto& c = triangle[t].vertex;
        return c[0] == v ? 0 : c[1] == v ? 1 : 2;
    };
    const TriangleId start = vertex[v].triangle;
    TriangleId t = start;
    // Counter-clockwise: over the edge that comes in to v.
    do {
        const int k = corner_of(t);
        out.push_back({t, k});
        t = triangle[t].neighbour[(k + 2) % 3];
    } while (t.valid() && t != start);
    if (t == start) return true;
    // Open: what lies clockwise of the start comes before it.
    std::vector<Corner> before;
    int k = corner_of(start);
    for (t = triangle[start].neighbour[k]; t.valid(); t = triangle[t].neighbour[k]) {
        k = corner_of(t);
        before.push_back({t, k});
    }
    out.insert(out.begin(), before.rbegin(), before.rend());
    return false;
}

void RemeshMesh::relink(TriangleId t, int edge, TriangleId n, TriangleId old) {
    triangle[t].neighbour[edge] = n;
    if (!n.valid()) return;
    for (auto& back : triangle[n].neighbour)
        if (back == old) {
            // Two triangles may share two edges; take the one whose ends agree.
            const int i = static_cast<int>(&back - triangle[n].neighbour.data());
            if (triangle[n].vertex[i] != triangle[t].vertex[(edge + 1) % 3] ||
                triangle[n].vertex[(i + 1) % 3] != triangle[t].vertex[edge])
                continue;
            back = t;
            return;
        }
}

void RemeshMesh::split(Corner edge, VertexId m, const surface::Anchor& anchor_here,
                       const surface::Anchor& anchor_across, double parameter) {
    // One side at a time: the far half of each becomes a new triangle.
    const auto halve = [&](TriangleId t, int i, const surface::Anchor& anchor) {
        const TriangleId fresh = triangle.add(triangle[t]);
        RemeshTriangle& near = triangle[t];
        RemeshTriangle& far = triangle[fresh];
        const int j = (i + 1) % 3;
        const int k = (i + 2) % 3;
        near.vertex[j] = m;
        near.anchor[j] = anchor;
        far.vertex[i] = m;
        far.anchor[i] = anchor;
        near.kept[i].to = parameter;
        far.kept[i].from = parameter;
        near.kept[j] = {};
        far.kept[k] = {};
        near.neighbour[j] = fresh;
        far.neighbour[k] = t;
        relink(fresh, j, far.neighbour[j], t);
        vertex[far.vertex[j]].triangle = fresh;
        touched.push_back(t);
        touched.push_back(fresh);
        return fresh;
    };
    const TriangleId t = edge.triangle;
    const int i = edge.corner;
    const TriangleId n = triangle[t].neighbour[i];
    const VertexId a = triangle[t].vertex[i];
    const VertexId b = triangle[t].vertex[(i + 1) % 3];
    const int back = n.valid() ? edge_in(n, b, a) : 0;
    const TriangleId far_here = halve(t, i, anchor_here);  // m -> b
    vertex[m].triangle = t;
    vertex[a].triangle = t;
    if (!n.valid()) return;
    const TriangleId far_across = halve(n, back, anchor_across);  // m -> a
    triangle[t].neighbour[i] = far_across;
    triangle[far_across].neighbour[back] = t;
    triangle[far_here].neighbour[i] = n;
    triangle[n].neighbour[back] = far_here;
}

void RemeshMesh::flip(Corner edge) {
    const TriangleId t = edge.triangle;
    const int i = edge.corner;
    const TriangleId n = triangle[t].neighbour[i];
    const RemeshTriangle here = triangle[t];
    const VertexId a = here.vertex[i];
    const VertexId b = here.vertex[(i + 1) % 3];
    const int k = edge_in(n, b, a);
    const RemeshTriangle across = triangle[n];
    const int c = (i + 2) % 3;
    const int d = (k + 2) % 3;
    // here: c, a, d; across: d, b, c.
    RemeshTriangle& x = triangle[t];
    RemeshTriangle& y = triangle[n];
    x.vertex = {here.vertex[c], a, across.vertex[d]};
    x.anchor = {here.anchor[c], here.anchor[i], across.anchor[d]};
    x.kept = {here.kept[c], across.kept[(k + 1) % 3], KeptEdge{}};
    y.vertex = {across.vertex[d], b, here.vertex[c]};
    y.anchor = {across.anchor[d], here.anchor[(i + 1) % 3], here.anchor[c]};
    y.kept = {across.kept[d], here.kept[(i + 1) % 3], KeptEdge{}};
    x.neighbour[2] = n;
    y.neighbour[2] = t;
    relink(t, 0, here.neighbour[c], t);
    relink(t, 1, across.neighbour[(k + 1) % 3], n);
    relink(n, 0, across.neighbour[d], n);
    relink(n, 1, here.neighbour[(i + 1) % 3], t);
    vertex[a].triangle = t;
    vertex[b].triangle = n;
    vertex[here.vertex[c]].triangle = t;
    vertex[across.vertex[d]].triangle = n;
}

void RemeshMesh::collapse(Corner edge, const std::vector<Corner>& ring_of_first) {
    const TriangleId t = edge.triangle;
    const int i = edge.corner;
    const TriangleId n = triangle[t].neighbour[i];
    const VertexId a = triangle[t].vertex[i];
    const VertexId b = triangle[t].vertex[(i + 1) % 3];
    const int k = n.valid() ? edge_in(n, b, a) : 0;
    // The kept curve through a, if any, goes on to b: its edge on each side ends at b's parameter.
    const KeptEdge along = triangle[t].kept[i];
    const surface::Anchor anchor_left = triangle[t].anchor[(i + 1) % 3];
    const surface::Anchor anchor_right = n.valid() ? triangle[n].anchor[k] : anchor_left;
    const std::size_t count = ring_of_first.size();
    std::size_t at_t = 0;
    while (ring_of_first[at_t].triangle != t) ++at_t;
    bool left = true;  // counter-clockwise from t until the next kept edge is crossed
    for (std::size_t s = 0; s < count; ++s) {
        const Corner c = ring_of_first[(at_t + s) % count];
        RemeshTriangle& r = triangle[c.triangle];
        // Crossing into r over its outgoing edge a -> next: past a kept one lies the other side.
        if (s > 0 && r.kept[c.corner].kept()) left = false;
        if (c.triangle == t || c.triangle == n) continue;
        r.vertex[c.corner] = b;
        r.anchor[c.corner] = left ? anchor_left : anchor_right;
        if (along.kept()) {
            if (r.kept[c.corner].kept()) r.kept[c.corner].from = along.to;
            if (r.kept[(c.corner + 2) % 3].kept()) r.kept[(c.corner + 2) % 3].to = along.to;
        }
    }
    sew_over(t, (i + 1) % 3, (i + 2) % 3);
    if (n.valid()) sew_over(n, (k + 2) % 3, (k + 1) % 3);
    vertex[a].triangle = {};
}

void RemeshMesh::collapse_back(Corner edge, const std::vector<Corner>& ring_of_second) {
    const TriangleId t = edge.triangle;
    const int i = edge.corner;
    const VertexId stays = triangle[t].vertex[i], goes = triangle[t].vertex[(i + 1) % 3];
    const KeptEdge along = triangle[t].kept[i];
    const surface::Anchor anchor = triangle[t].anchor[i];
    for (const Corner& c : ring_of_second) {
        if (c.triangle == t) continue;
        RemeshTriangle& r = triangle[c.triangle];
        r.vertex[c.corner] = stays;
        r.anchor[c.corner] = anchor;
        if (!along.kept()) continue;
        if (r.kept[c.corner].kept()) r.kept[c.corner].from = along.from;
        if (r.kept[(c.corner + 2) % 3].kept()) r.kept[(c.corner + 2) % 3].to = along.from;
    }
    sew_over(t, (i + 2) % 3, (i + 1) % 3);
    vertex[goes].triangle = {};
}

void RemeshMesh::sew_over(TriangleId gone, int stays, int goes) {
    const TriangleId p = triangle[gone].neighbour[stays];
    const TriangleId q = triangle[gone].neighbour[goes];
    const auto side = [&](TriangleId other) {
        for (int e = 0; e < 3; ++e)
            if (triangle[other].neighbour[e] == gone) return e;
        throw std::logic_error("RemeshMesh: neighbours disagree at a collapse");
    };
    const int ep = p.valid() ? side(p) : 0;
    const int eq = q.valid() ? side(q) : 0;
    if (p.valid()) triangle[p].neighbour[ep] = q;
    if (q.valid()) {
        triangle[q].neighbour[eq] = p;
        triangle[q].kept[eq] = triangle[gone].kept[stays];
    }
    const TriangleId any = p.valid() ? p : q;
    for (const int corner : {stays, (stays + 1) % 3})
        vertex[triangle[gone].vertex[corner]].triangle = any;
    triangle[gone].vertex = {};
}

void RemeshMesh::compact() {
    touched.clear();
    PerId<TriangleId, TriangleId> new_triangle(triangle.size());
    PerId<VertexId, VertexId> new_vertex(vertex.size());
    PerId<TriangleId, RemeshTriangle> kept_triangles;
    PerId<VertexId, RemeshVertex> kept_vertices;
    for (const TriangleId t : triangle.ids()) {
        if (!triangle[t].alive()) continue;
        new_triangle[t] = kept_triangles.add(triangle[t]);
        for (VertexId& v : kept_triangles[new_triangle[t]].vertex) {
            if (!new_vertex[v].valid()) new_vertex[v] = kept_vertices.add(vertex[v]);
            v = new_vertex[v];
        }
    }
    for (RemeshTriangle& t : kept_triangles)
        for (TriangleId& n : t.neighbour)
            if (n.valid()) n = new_triangle[n];
    triangle = std::move(kept_triangles);
    vertex = std::move(kept_vertices);
    for (const TriangleId t : triangle.ids())
        for (const VertexId v : triangle[t].vertex) vertex[v].triangle = t;
}

}  // namespace tearline::remesh
