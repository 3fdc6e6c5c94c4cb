#include "core/remesh/remesh_mesh.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <set>
#include <stdexcept>

#include "tests/support/remesh_meshes.h"

namespace tearline::remesh {
namespace {

/// Two triangles over the square (0,0) (10,0) (10,10) (0,10), their diagonal from 0 to 2.
RemeshMesh square() {
    return test::remesh_mesh({{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {{0, 1, 2}, {0, 2, 3}}});
}

/// Adds a vertex in the middle of an edge and splits there.
VertexId halve(RemeshMesh& mesh, Corner e) {
    const Vec3 middle =
        0.5 * (mesh.point(e.triangle, e.corner) + mesh.point(e.triangle, e.corner + 1));
    const VertexId m = mesh.vertex.add({middle, 1.0, {}});
    const surface::Anchor anchor{0, middle.head<2>()};
    const KeptEdge& kept = mesh.triangle[e.triangle].kept[e.corner];
    mesh.split(e, m, anchor, anchor, 0.5 * (kept.from + kept.to));
    return m;
}

TEST(RemeshMesh, ConnectsAsTheSurfaceMeshDoes) {
    // Second route: surface::neighbours.
    const auto figure = test::with_hole(test::disc(50, 5), {10, 10}, 12);
    const RemeshMesh mesh = test::remesh_mesh(figure);
    surface::SurfaceMesh plain;
    plain.triangle = figure.triangle;
    const auto across = surface::neighbours(plain);
    for (const TriangleId t : mesh.triangle.ids())
        EXPECT_EQ(values(mesh.triangle[t].neighbour), across[t.index()]);
    test::expect_sound(mesh);
}

TEST(RemeshMesh, RingsGoRoundCounterClockwise) {
    // In a flat disc, from one corner to the next the angle grows; six triangles close it.
    const RemeshMesh mesh = test::remesh_mesh(test::disc(50, 4));
    std::vector<Corner> ring;
    for (const VertexId v : mesh.vertex.ids()) {
        const bool closed = mesh.ring(v, ring);
        const bool on_rim = mesh.vertex[v].position.norm() > 49.0;
        EXPECT_EQ(closed, !on_rim);
        double turned = 0.0;
        for (std::size_t k = 0; k < ring.size(); ++k) {
            EXPECT_EQ(mesh.triangle[ring[k].triangle].vertex[ring[k].corner], v);
            const Vec3 a =
                mesh.point(ring[k].triangle, ring[k].corner + 1) - mesh.vertex[v].position;
            const Vec3 b =
                mesh.point(ring[k].triangle, ring[k].corner + 2) - mesh.vertex[v].position;
            turned += std::atan2(a.cross(b).z(), a.dot(b));
            if (k + 1 == ring.size()) break;
            // The next triangle starts where this one ends.
            EXPECT_EQ(mesh.triangle[ring[k].triangle].vertex[(ring[k].corner + 2) % 3],
                      mesh.triangle[ring[k + 1].triangle].vertex[(ring[k + 1].corner + 1) % 3]);
        }
        if (closed) {
            EXPECT_EQ(ring.size(), 6u);
            EXPECT_NEAR(turned, 2.0 * std::numbers::pi, 1e-9);
        } else {
            // An open ring starts and ends at the rim.
            EXPECT_FALSE(
                mesh.triangle[ring.front().triangle].neighbour[ring.front().corner].valid());
            EXPECT_FALSE(mesh.triangle[ring.back().triangle]
                             .neighbour[(ring.back().corner + 2) % 3]
                             .valid());
        }
    }
}

TEST(RemeshMesh, RingsOfTheRimAreTheSameFromWhicheverTriangleTheyAreFound) {
    RemeshMesh mesh = test::remesh_mesh(test::with_hole(test::disc(60, 6), {5, 8}, 17));
    std::vector<Corner> ring, again;
    std::size_t longest = 0;
    for (const VertexId v : mesh.vertex.ids()) {
        if (mesh.ring(v, ring)) continue;
        longest = std::max(longest, ring.size());
        for (const Corner& c : ring) {
            mesh.vertex[v].triangle = c.triangle;
            EXPECT_FALSE(mesh.ring(v, again));
            ASSERT_EQ(again.size(), ring.size());
            for (std::size_t k = 0; k < ring.size(); ++k) {
                EXPECT_EQ(again[k].triangle, ring[k].triangle);
                EXPECT_EQ(again[k].corner, ring[k].corner);
            }
        }
    }
    EXPECT_GE(longest, 4u);
}

TEST(RemeshMesh, AreaVectorIsTwiceTheAreaAlongTheNormal) {
    // By hand: half of the square is 50 mm2, facing +z.
    const RemeshMesh mesh = square();
    EXPECT_EQ(mesh.area_vector(TriangleId(0)), Vec3(0, 0, 100));
    EXPECT_EQ(mesh.length2({TriangleId(0), 1}), 100.0);
    EXPECT_EQ(mesh.length2({TriangleId(0), 2}), 200.0);
}

TEST(RemeshMesh, EdgeThatIsNotThereIsABrokenInvariant) {
    const RemeshMesh mesh = square();
    EXPECT_EQ(mesh.edge_in(TriangleId(1), VertexId(2), VertexId(3)), 1);
    EXPECT_THROW((void)mesh.edge_in(TriangleId(1), VertexId(3), VertexId(2)), std::logic_error);
}

TEST(RemeshMesh, SplitsAnInnerEdgeIntoFourTriangles) {
    RemeshMesh mesh = square();
    const VertexId m = halve(mesh, {TriangleId(0), 2});  // from 2 to 0
    EXPECT_EQ(test::count_alive(mesh), 4u);
    EXPECT_EQ(mesh.vertex[m].position, Vec3(5, 5, 0));
    test::expect_sound(mesh);
    // By hand: four quarters of the square, all facing up, all meeting in the middle.
    for (const TriangleId t : mesh.triangle.ids()) EXPECT_EQ(mesh.area_vector(t), Vec3(0, 0, 50));
    std::vector<Corner> ring;
    EXPECT_TRUE(mesh.ring(m, ring));
    EXPECT_EQ(ring.size(), 4u);
    EXPECT_EQ(std::set<TriangleId>(mesh.touched.begin(), mesh.touched.end()),
              (std::set<TriangleId>{TriangleId(0), TriangleId(1), TriangleId(2), TriangleId(3)}));
}

TEST(RemeshMesh, SplitsARimEdgeIntoTwoAndSharesOutWhatItKeepsTo) {
    RemeshMesh mesh = square();
    mesh.triangle[TriangleId(0)].kept[0] = {7, 3.0, 5.0, true};
    const VertexId m = halve(mesh, {TriangleId(0), 0});
    EXPECT_EQ(test::count_alive(mesh), 3u);
    test::expect_sound(mesh);
    // From 3 to 4 and from 4 to 5; the new edge to the apex is free.
    int kept = 0;
    for (const auto& t : mesh.triangle)
        for (int i = 0; i < 3; ++i) {
            if (!t.kept[i].kept()) continue;
            ++kept;
            EXPECT_EQ(t.kept[i].edge, 7);
            EXPECT_TRUE(t.kept[i].hull_end);
            EXPECT_FALSE(t.neighbour[i].valid());
            const bool first = t.vertex[(i + 1) % 3] == m;
            EXPECT_EQ(t.kept[i].from, first ? 3.0 : 4.0);
            EXPECT_EQ(t.kept[i].to, first ? 4.0 : 5.0);
        }
    EXPECT_EQ(kept, 2);
}

TEST(RemeshMesh, FlipsToTheOtherDiagonalAndBack) {
    RemeshMesh mesh = square();
    // Each side of the square keeps to a line with the number of its first corner.
    for (auto& t : mesh.triangle)
        for (int i = 0; i < 3; ++i)
            if (!t.neighbour[i].valid()) t.kept[i] = {t.vertex[i].value, 0.25, 0.75, true};
    mesh.flip({TriangleId(0), 2});
    test::expect_sound(mesh);
    for (const TriangleId t : mesh.triangle.ids()) EXPECT_EQ(mesh.area_vector(t), Vec3(0, 0, 100));
    for (const auto& t : mesh.triangle) {
        // Both triangles hold 1 and 3 now, and the square's sides keep to what they did.
        EXPECT_EQ(std::count(t.vertex.begin(), t.vertex.end(), VertexId(1)), 1);
        EXPECT_EQ(std::count(t.vertex.begin(), t.vertex.end(), VertexId(3)), 1);
        for (int i = 0; i < 3; ++i) {
            EXPECT_EQ(t.kept[i].edge, t.neighbour[i].valid() ? -1 : t.vertex[i].value);
            EXPECT_EQ(t.anchor[i].uv, mesh.vertex[t.vertex[i]].position.head<2>());
        }
    }
    for (int i = 0; i < 3; ++i)
        if (mesh.triangle[TriangleId(0)].neighbour[i].valid()) {
            mesh.flip({TriangleId(0), i});
            break;
        }
    test::expect_sound(mesh);
    // The first diagonal, seen from either side.
    for (const auto& t : mesh.triangle) {
        EXPECT_EQ(std::count(t.vertex.begin(), t.vertex.end(), VertexId(0)), 1);
        EXPECT_EQ(std::count(t.vertex.begin(), t.vertex.end(), VertexId(2)), 1);
    }
}

TEST(RemeshMesh, CollapsesAnInnerVertexOntoItsNeighbour) {
    // The middle of a disc moves onto a vertex of ring 1: two triangles and one vertex go, the
    // figure stays covered once (the area of the polygon, shoelace).
    RemeshMesh mesh = test::remesh_mesh(test::disc(30, 3));
    const double before = test::area_of(mesh);
    std::vector<Corner> ring;
    ASSERT_TRUE(mesh.ring(VertexId(0), ring));
    const VertexId onto = mesh.triangle[ring[2].triangle].vertex[(ring[2].corner + 1) % 3];
    mesh.collapse(ring[2], ring);
    EXPECT_EQ(test::count_alive(mesh), 54u - 2u);
    EXPECT_FALSE(mesh.vertex[VertexId(0)].triangle.valid());
    test::expect_sound(mesh);
    EXPECT_NEAR(test::area_of(mesh), before, 1e-9);
    for (const auto& t : mesh.triangle)
        for (int i = 0; i < 3 && t.alive(); ++i) {
            EXPECT_NE(t.vertex[i], VertexId(0));
            if (t.vertex[i] == onto) {
                EXPECT_EQ(t.anchor[i].uv, mesh.vertex[onto].position.head<2>());
            }
        }
}

TEST(RemeshMesh, CollapsesAlongAKeptRimAndKeepsItsParameters) {
    // The bottom side of a strip as a kept line with x as parameter: the vertex at x = 20 slides to
    // 30, and the rim edge from 10 ends there.
    RemeshMesh mesh = test::remesh_mesh(test::rectangle_mesh(50, 20, 5, 2));
    test::keep_rim_along(mesh, 0.0);
    const double before = test::area_of(mesh);
    Corner slide;
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3; ++i)
            if (mesh.triangle[t].kept[i].kept() && mesh.triangle[t].kept[i].from == 20.0)
                slide = {t, i};
    ASSERT_TRUE(slide.triangle.valid());
    std::vector<Corner> ring;
    EXPECT_FALSE(mesh.ring(mesh.triangle[slide.triangle].vertex[slide.corner], ring));
    mesh.collapse(slide, ring);
    test::expect_sound(mesh);
    EXPECT_NEAR(test::area_of(mesh), before, 1e-9);
    double covered = 0.0;
    for (const auto& t : mesh.triangle)
        for (int i = 0; i < 3 && t.alive(); ++i)
            if (t.kept[i].kept()) {
                EXPECT_EQ(t.kept[i].from, mesh.vertex[t.vertex[i]].position.x());
                EXPECT_EQ(t.kept[i].to, mesh.vertex[t.vertex[(i + 1) % 3]].position.x());
                covered += t.kept[i].to - t.kept[i].from;
            }
    EXPECT_EQ(covered, 50.0);
}

TEST(RemeshMesh, CompactsToWhatIsLeftInItsOrder) {
    RemeshMesh mesh = test::remesh_mesh(test::disc(30, 3));
    std::vector<Corner> ring;
    ASSERT_TRUE(mesh.ring(VertexId(0), ring));
    mesh.collapse(ring[0], ring);
    const double before = test::area_of(mesh);
    mesh.touched = {TriangleId(1), TriangleId(2), TriangleId(3)};
    mesh.compact();
    EXPECT_EQ(mesh.triangle.size(), 52u);
    EXPECT_EQ(mesh.vertex.size(), 36u);  // 1 + 6 + 12 + 18, less one
    EXPECT_TRUE(mesh.touched.empty());
    test::expect_sound(mesh);
    EXPECT_NEAR(test::area_of(mesh), before, 1e-9);
}

TEST(RemeshMesh, StaysSoundThroughRandomSplitsAndFlips) {
    // Property: on a flat figure any split keeps the area, a flip of a convex pair too, and both
    // keep Euler's number.
    std::mt19937 random(1618);  // fixed start value
    RemeshMesh mesh = test::remesh_mesh(test::with_hole(test::disc(60, 4), {20, 0}, 16));
    const double before = test::area_of(mesh);
    std::size_t splits = 0, rim_splits = 0, flips = 0;
    for (int step = 0; step < 400; ++step) {
        const TriangleId t(random() % mesh.triangle.size());
        const int i = static_cast<int>(random() % 3);
        const TriangleId n = mesh.triangle[t].neighbour[i];
        if (random() % 2 == 0) {
            halve(mesh, {t, i});
            ++splits;
            rim_splits += n.valid() ? 0 : 1;
            continue;
        }
        if (!n.valid()) continue;
        const int k =
            mesh.edge_in(n, mesh.triangle[t].vertex[(i + 1) % 3], mesh.triangle[t].vertex[i]);
        const Vec3 &a = mesh.point(t, i), &b = mesh.point(t, i + 1), &c = mesh.point(t, i + 2),
                   &d = mesh.point(n, k + 2);
        const auto side = [](const Vec3& p, const Vec3& q, const Vec3& r) {
            return (q - p).cross(r - p).z();
        };
        if (!(side(c, a, d) > 1e-6 && side(d, b, c) > 1e-6)) continue;
        mesh.flip({t, i});
        ++flips;
    }
    test::expect_sound(mesh);
    EXPECT_GT(flips, 20u);
    EXPECT_GT(rim_splits, 5u);
    EXPECT_NEAR(test::area_of(mesh), before, 1e-9 * before);
    const auto start = test::with_hole(test::disc(60, 4), {20, 0}, 16);
    EXPECT_EQ(mesh.vertex.size(), start.place.size() + splits);
    EXPECT_EQ(mesh.triangle.size(), start.triangle.size() + 2 * splits - rim_splits);
}

}  // namespace
}  // namespace tearline::remesh
