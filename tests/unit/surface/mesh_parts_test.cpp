#include "core/surface/mesh_parts.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "tests/support/analytic_meshes.h"
#include "tests/support/mesh_checks.h"

namespace tearline::surface {
namespace {

SurfaceMesh flat_mesh(const test::PlaneMesh& figure) {
    SurfaceMesh mesh;
    for (const Vec2& p : figure.place) mesh.position.emplace_back(p.x(), p.y(), 0.0);
    mesh.triangle = figure.triangle;
    return mesh;
}

/// Adds another mesh, its vertices after those that are there.
void add(SurfaceMesh& mesh, const SurfaceMesh& other) {
    const auto shift = static_cast<std::int32_t>(mesh.position.size());
    mesh.position.insert(mesh.position.end(), other.position.begin(), other.position.end());
    for (auto t : other.triangle) {
        for (std::int32_t& v : t) v += shift;
        mesh.triangle.push_back(t);
    }
}

TEST(MeshParts, AreCountedInTheOrderOfTheirTriangles) {
    // By construction: a disc of 24 triangles, a ring of 36, a lone triangle.
    SurfaceMesh mesh = flat_mesh(test::disc(10.0, 2));
    add(mesh, flat_mesh(test::ring(20.0, 30.0, 1, 18)));
    add(mesh, {{{100, 0, 0}, {101, 0, 0}, {100, 1, 0}}, {{0, 1, 2}}, {}, {}});
    EXPECT_EQ(count_parts(mesh), 3u);
    const auto part = mesh_parts(mesh);
    ASSERT_EQ(part.size(), 24u + 36u + 1u);
    EXPECT_EQ(std::count(part.begin(), part.end(), 0), 24);
    EXPECT_EQ(std::count(part.begin(), part.end(), 1), 36);
    EXPECT_EQ(part.back(), 2);
    EXPECT_EQ(part.front(), 0);
}

TEST(MeshParts, DoNotHangTogetherByAVertexAlone) {
    // A bow tie: two triangles with one corner in common, then with a third between them.
    SurfaceMesh mesh;
    mesh.position = {{0, 0, 0}, {1, -1, 0}, {1, 1, 0}, {-1, 1, 0}, {-1, -1, 0}};
    mesh.triangle = {{0, 1, 2}, {0, 3, 4}};
    EXPECT_EQ(count_parts(mesh), 2u);
    mesh.triangle.push_back({0, 2, 3});
    EXPECT_EQ(count_parts(mesh), 1u);
    EXPECT_EQ(count_parts(SurfaceMesh{}), 0u);
}

TEST(PinchedVertices, OfABowTieBecomeTwo) {
    SurfaceMesh mesh;
    mesh.position = {{5, 6, 7}, {1, -1, 0}, {1, 1, 0}, {-1, 1, 0}, {-1, -1, 0}};
    mesh.triangle = {{0, 1, 2}, {3, 4, 0}};
    const auto before = part_pinched_vertices(mesh);
    // The first fan keeps the vertex, the second gets number 5 at the same place.
    EXPECT_EQ(before, (std::vector<std::int32_t>{0, 1, 2, 3, 4, 0}));
    ASSERT_EQ(mesh.position.size(), 6u);
    EXPECT_EQ(mesh.position[5], Vec3(5, 6, 7));
    EXPECT_EQ(mesh.triangle[0], (std::array<std::int32_t, 3>{0, 1, 2}));
    EXPECT_EQ(mesh.triangle[1], (std::array<std::int32_t, 3>{3, 4, 5}));
}

TEST(PinchedVertices, GiveEachOfManyFansItsOwn) {
    // Three fans of two triangles each round vertex 0, and one of them closed would be the fourth:
    // after the parting, every vertex has one fan (the free edges make simple loops).
    SurfaceMesh mesh;
    mesh.position.emplace_back(0, 0, 0);
    for (int fan = 0; fan < 3; ++fan) {
        const auto first = static_cast<std::int32_t>(mesh.position.size());
        for (int k = 0; k < 3; ++k) {
            const double a = 2.0 * fan + 0.5 * k;
            mesh.position.emplace_back(std::cos(a), std::sin(a), 0.0);
        }
        mesh.triangle.push_back({first, first + 1, 0});
        mesh.triangle.push_back({0, first + 1, first + 2});
    }
    const auto old = mesh;
    const auto before = part_pinched_vertices(mesh);
    EXPECT_EQ(mesh.position.size(), old.position.size() + 2);
    EXPECT_EQ(before.size(), mesh.position.size());
    test::expect_manifold(mesh);
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (int k = 0; k < 3; ++k) {
            EXPECT_EQ(before[mesh.triangle[t][k]], old.triangle[t][k]);
            EXPECT_EQ(mesh.position[mesh.triangle[t][k]], old.position[old.triangle[t][k]]);
        }
    EXPECT_EQ(neighbours(mesh), neighbours(old)) << "parting takes no edge away";
}

TEST(PinchedVertices, LeaveASoundMeshAlone) {
    // Inner vertices have closed fans, rim vertices open ones, an opening's rim too.
    SurfaceMesh mesh = flat_mesh(test::with_hole(test::disc(40.0, 6), {5, 5}, 12.0));
    const auto old = mesh.triangle;
    const std::size_t count = mesh.position.size();
    const auto before = part_pinched_vertices(mesh);
    EXPECT_EQ(mesh.triangle, old);
    EXPECT_EQ(mesh.position.size(), count);
    for (std::size_t v = 0; v < before.size(); ++v)
        EXPECT_EQ(before[v], static_cast<std::int32_t>(v));
}

}  // namespace
}  // namespace tearline::surface
