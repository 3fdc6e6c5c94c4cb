#pragma once
#include <gtest/gtest.h>

#include <functional>

#include "core/remesh/remesh_mesh.h"
#include "tests/support/analytic_meshes.h"

/// Meshes for the remesher from plane figures, and what must hold of them after any change.
namespace tearline::test {

/// A figure raised to a surface; every corner is anchored in face 0 by its place in the figure.
inline remesh::RemeshMesh remesh_mesh(
    const PlaneMesh& figure, const std::function<Vec3(const Vec2&)>& raised = [](const Vec2& p) {
        return Vec3(p.x(), p.y(), 0.0);
    }) {
    remesh::RemeshMesh mesh;
    for (const Vec2& p : figure.place) mesh.vertex.add({raised(p), 0.0, {}});
    for (const auto& v : figure.triangle) {
        remesh::RemeshTriangle t;
        for (int i = 0; i < 3; ++i) {
            t.vertex[i] = VertexId(v[i]);
            t.anchor[i] = {0, figure.place[v[i]]};
        }
        mesh.triangle.add(t);
    }
    mesh.connect();
    return mesh;
}

/// A rectangle [0, x] by [0, y] of right triangles, diagonals to and fro.
inline PlaneMesh rectangle_mesh(double x, double y, int across, int along) {
    PlaneMesh out;
    for (int j = 0; j <= along; ++j)
        for (int i = 0; i <= across; ++i) out.place.emplace_back(x * i / across, y * j / along);
    const auto at = [&](int i, int j) { return j * (across + 1) + i; };
    for (int j = 0; j < along; ++j)
        for (int i = 0; i < across; ++i) {
            const int a = at(i, j), b = at(i + 1, j), c = at(i + 1, j + 1), d = at(i, j + 1);
            if ((i + j) % 2 == 0) {
                out.triangle.push_back({a, b, c});
                out.triangle.push_back({a, c, d});
            } else {
                out.triangle.push_back({a, b, d});
                out.triangle.push_back({b, c, d});
            }
        }
    return out;
}

/// Keeps the rim edges that lie on a line y = const, as lines that PlaneCarrier knows.
inline void keep_rim_along(remesh::RemeshMesh& mesh, double y, bool hull_end = true) {
    for (auto& t : mesh.triangle)
        for (int i = 0; i < 3; ++i) {
            if (t.neighbour[i].valid()) continue;
            const Vec3& a = mesh.vertex[t.vertex[i]].position;
            const Vec3& b = mesh.vertex[t.vertex[(i + 1) % 3]].position;
            if (a.y() != y || b.y() != y) continue;
            t.kept[i] = {static_cast<std::int32_t>(y), a.x(), b.x(), hull_end};
        }
}

/// Area of the flat triangles that are there [mm2].
inline double area_of(const remesh::RemeshMesh& mesh) {
    double sum = 0.0;
    for (const TriangleId t : mesh.triangle.ids())
        if (mesh.triangle[t].alive()) sum += 0.5 * mesh.area_vector(t).norm();
    return sum;
}

inline std::size_t count_alive(const remesh::RemeshMesh& mesh) {
    std::size_t count = 0;
    for (const auto& t : mesh.triangle) count += t.alive() ? 1 : 0;
    return count;
}

/// Neighbours are mutual and agree on their edge and on what it keeps to; vertices know a triangle
/// of theirs; corners of one vertex are one ring.
inline void expect_sound(const remesh::RemeshMesh& mesh) {
    PerId<VertexId, int> corners(mesh.vertex.size(), 0);
    for (const TriangleId t : mesh.triangle.ids()) {
        const auto& here = mesh.triangle[t];
        if (!here.alive()) continue;
        for (int i = 0; i < 3; ++i) {
            ++corners[here.vertex[i]];
            const TriangleId n = here.neighbour[i];
            if (!n.valid()) continue;
            const auto& there = mesh.triangle[n];
            ASSERT_TRUE(there.alive()) << t.value << " has a neighbour that is gone";
            int k = 0;
            while (k < 3 && !(there.vertex[k] == here.vertex[(i + 1) % 3] &&
                              there.vertex[(k + 1) % 3] == here.vertex[i]))
                ++k;
            ASSERT_LT(k, 3) << t.value << " and " << n.value << " share no edge";
            EXPECT_EQ(there.neighbour[k], t);
            EXPECT_EQ(there.kept[k].edge, here.kept[i].edge);
            EXPECT_EQ(there.kept[k].from, here.kept[i].to);
            EXPECT_EQ(there.kept[k].to, here.kept[i].from);
        }
    }
    std::vector<remesh::Corner> ring;
    for (const VertexId v : corners.ids()) {
        if (corners[v] == 0) continue;
        const TriangleId t = mesh.vertex[v].triangle;
        ASSERT_TRUE(t.valid()) << "vertex " << v.value;
        const auto& round = mesh.triangle[t].vertex;
        ASSERT_TRUE(std::find(round.begin(), round.end(), v) != round.end())
            << "vertex " << v.value << " names a triangle without it";
        mesh.ring(v, ring);
        EXPECT_EQ(static_cast<int>(ring.size()), corners[v]) << "vertex " << v.value;
    }
}

}  // namespace tearline::test
