#include "core/remesh/remesh_mesh.h"

#include <Eigen/Geometry>
#include <stdexcept>

namespace tearline::remesh {

Vec3 RemeshMesh::area_vector(std::int32_t t) const {
    const Vec3& a = point(t, 0);
    return (point(t, 1) - a).cross(point(t, 2) - a);
}

int RemeshMesh::edge_in(std::int32_t t, std::int32_t from, std::int32_t to) const {
    const auto& v = triangle[t].vertex;
    for (int i = 0; i < 3; ++i)
        if (v[i] == from && v[(i + 1) % 3] == to) return i;
    throw std::logic_error("RemeshMesh: neighbours disagree about their edge");
}

void RemeshMesh::connect() {
    surface::SurfaceMesh plain;
    plain.position.resize(vertex.size());
    plain.triangle.reserve(triangle.size());
    for (const auto& t : triangle) plain.triangle.push_back(t.vertex);
    const auto across = surface::neighbours(plain);
    for (std::size_t t = 0; t < triangle.size(); ++t) {
        triangle[t].neighbour = across[t];
        for (const std::int32_t v : triangle[t].vertex)
            vertex[v].triangle = static_cast<std::int32_t>(t);
    }
}

bool RemeshMesh::ring(std::int32_t v, std::vector<Corner>& out) const {
    out.clear();
    const auto corner_of = [&](std::int32_t t) {
        const auto& c = triangle[t].vertex;
        return c[0] == v ? 0 : c[1] == v ? 1 : 2;
    };
    const std::int32_t start = vertex[v].triangle;
    std::int32_t t = start;
    // Counter-clockwise: over the edge that comes in to v.
    do {
        const int k = corner_of(t);
        out.push_back({t, k});
        t = triangle[t].neighbour[(k + 2) % 3];
    } while (t >= 0 && t != start);
    if (t == start) return true;
    // Open: what lies clockwise of the start comes before it.
    std::vector<Corner> before;
    int k = corner_of(start);
    for (t = triangle[start].neighbour[k]; t >= 0; t = triangle[t].neighbour[k]) {
        k = corner_of(t);
        before.push_back({t, k});
    }
    out.insert(out.begin(), before.rbegin(), before.rend());
    return false;
}

void RemeshMesh::relink(std::int32_t t, int edge, std::int32_t n, std::int32_t old) {
    triangle[t].neighbour[edge] = n;
    if (n < 0) return;
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

void RemeshMesh::split(Corner edge, std::int32_t m, const surface::Anchor& anchor_here,
                       const surface::Anchor& anchor_across, double parameter) {
    // One side at a time: the far half of each becomes a new triangle.
    const auto halve = [&](std::int32_t t, int i, const surface::Anchor& anchor) {
        const auto fresh = static_cast<std::int32_t>(triangle.size());
        triangle.push_back(triangle[t]);
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
    const std::int32_t t = edge.triangle;
    const int i = edge.corner;
    const std::int32_t n = triangle[t].neighbour[i];
    const std::int32_t a = triangle[t].vertex[i];
    const std::int32_t b = triangle[t].vertex[(i + 1) % 3];
    const int back = n >= 0 ? edge_in(n, b, a) : 0;
    const std::int32_t far_here = halve(t, i, anchor_here);  // m -> b
    vertex[m].triangle = t;
    vertex[a].triangle = t;
    if (n < 0) return;
    const std::int32_t far_across = halve(n, back, anchor_across);  // m -> a
    triangle[t].neighbour[i] = far_across;
    triangle[far_across].neighbour[back] = t;
    triangle[far_here].neighbour[i] = n;
    triangle[n].neighbour[back] = far_here;
}

void RemeshMesh::flip(Corner edge) {
    const std::int32_t t = edge.triangle;
    const int i = edge.corner;
    const std::int32_t n = triangle[t].neighbour[i];
    const RemeshTriangle here = triangle[t];
    const std::int32_t a = here.vertex[i];
    const std::int32_t b = here.vertex[(i + 1) % 3];
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
    const std::int32_t t = edge.triangle;
    const int i = edge.corner;
    const std::int32_t n = triangle[t].neighbour[i];
    const std::int32_t a = triangle[t].vertex[i];
    const std::int32_t b = triangle[t].vertex[(i + 1) % 3];
    const int k = n >= 0 ? edge_in(n, b, a) : 0;
    // The kept curve through a, if any, goes on to b: its edge on each side ends at b's parameter.
    const KeptEdge along = triangle[t].kept[i];
    const surface::Anchor anchor_left = triangle[t].anchor[(i + 1) % 3];
    const surface::Anchor anchor_right = n >= 0 ? triangle[n].anchor[k] : anchor_left;
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
    const auto sew = [&](std::int32_t gone, int toward_b, int from_a, std::int32_t apex) {
        // The edges between b, apex and a of a triangle that vanishes become one, b's.
        const std::int32_t p = triangle[gone].neighbour[toward_b];
        const std::int32_t q = triangle[gone].neighbour[from_a];
        const auto side = [&](std::int32_t other) {
            for (int e = 0; e < 3; ++e)
                if (triangle[other].neighbour[e] == gone) return e;
            throw std::logic_error("RemeshMesh: neighbours disagree at a collapse");
        };
        const int ep = p >= 0 ? side(p) : 0;
        const int eq = q >= 0 ? side(q) : 0;
        if (p >= 0) triangle[p].neighbour[ep] = q;
        if (q >= 0) {
            triangle[q].neighbour[eq] = p;
            triangle[q].kept[eq] = triangle[gone].kept[toward_b];
        }
        const std::int32_t any = p >= 0 ? p : q;
        vertex[apex].triangle = any;
        vertex[b].triangle = any;
        triangle[gone].vertex = {-1, -1, -1};
    };
    sew(t, (i + 1) % 3, (i + 2) % 3, triangle[t].vertex[(i + 2) % 3]);
    if (n >= 0) sew(n, (k + 2) % 3, (k + 1) % 3, triangle[n].vertex[(k + 2) % 3]);
    vertex[a].triangle = -1;
}

void RemeshMesh::compact() {
    touched.clear();
    std::vector<std::int32_t> new_triangle(triangle.size(), -1);
    std::vector<std::int32_t> new_vertex(vertex.size(), -1);
    std::int32_t triangles = 0;
    std::int32_t vertices = 0;
    for (std::size_t t = 0; t < triangle.size(); ++t) {
        if (!triangle[t].alive()) continue;
        new_triangle[t] = triangles++;
        for (const std::int32_t v : triangle[t].vertex)
            if (new_vertex[v] < 0) new_vertex[v] = vertices++;
    }
    std::vector<RemeshTriangle> kept_triangles(triangles);
    std::vector<RemeshVertex> kept_vertices(vertices);
    for (std::size_t t = 0; t < triangle.size(); ++t) {
        if (new_triangle[t] < 0) continue;
        RemeshTriangle moved = triangle[t];
        for (auto& v : moved.vertex) v = new_vertex[v];
        for (auto& n : moved.neighbour) n = n < 0 ? -1 : new_triangle[n];
        kept_triangles[new_triangle[t]] = moved;
    }
    for (std::size_t v = 0; v < vertex.size(); ++v)
        if (new_vertex[v] >= 0) kept_vertices[new_vertex[v]] = vertex[v];
    triangle = std::move(kept_triangles);
    vertex = std::move(kept_vertices);
    for (std::size_t t = 0; t < triangle.size(); ++t)
        for (const std::int32_t v : triangle[t].vertex)
            vertex[v].triangle = static_cast<std::int32_t>(t);
}

}  // namespace tearline::remesh
