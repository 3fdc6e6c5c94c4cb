#include "core/surface/surface_mesh.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "core/base/outline.h"
#include "tests/support/analytic_meshes.h"

namespace tearline::surface {
namespace {

using std::numbers::pi;

/// A point of a circle of radius R in the x-z plane about the origin, with its outward normal.
struct OnCircle {
    Vec3 at, normal;
    OnCircle(double radius, double angle)
        : at(radius * std::sin(angle), 0.0, radius * std::cos(angle)),
          normal(std::sin(angle), 0.0, std::cos(angle)) {}
};

TEST(ArcLength, IsRadiusTimesAngleOnACircle) {
    // Closed form, from hardly bent to a half turn; at 0.2 rad the series hands over to the sine.
    // The ends themselves are known to the rounding of the radius.
    for (const double radius : {3.0, 100.0, 1e4})
        for (const double turn : {1e-6, 0.01, 0.1, 0.1999, 0.2, 0.2001, 0.7, 1.5, 3.0}) {
            const OnCircle a(radius, -0.3), b(radius, turn - 0.3);
            EXPECT_NEAR(arc_length(a.at, b.at, a.normal, b.normal), radius * turn,
                        1e-11 * radius * turn + 1e-15 * radius)
                << radius << " " << turn;
        }
}

TEST(ArcLength, IsTheSameFromEitherEndAndEitherSide) {
    // A mirror image has the same length: ends exchanged, and seen from inside.
    const OnCircle a(70.0, 0.2), b(70.0, 1.4);
    const double outside = arc_length(a.at, b.at, a.normal, b.normal);
    EXPECT_NEAR(arc_length(b.at, a.at, b.normal, a.normal), outside, 1e-12);
    EXPECT_NEAR(arc_length(a.at, b.at, -a.normal, -b.normal), outside, 1e-12);
    EXPECT_NEAR(outside, 70.0 * 1.2, 1e-11);
}

TEST(ArcLength, OfAHelixLeavesOutTheTurnAboutItsChord) {
    // Derived: along a cylinder's axis, and between normals that turn about the chord alone (as on
    // a twisted plank), the line is straight and no longer than its chord.
    const Vec3 a(0, 0, 0), b(50, 0, 0);
    for (const double twist : {0.0, 0.3, 1.2})
        EXPECT_NEAR(arc_length(a, b, {0, 0, 1}, Vec3(0.0, std::sin(twist), std::cos(twist))), 50.0,
                    1e-12)
            << twist;
}

TEST(ArcLength, OfAnSIsItsChord) {
    // Both normals lean the same way: the two half arcs bend against each other, and the circle
    // through both ends that has both normals is a line.
    const Vec3 n = Vec3(0.3, 0.0, 1.0).normalized();
    EXPECT_NEAR(arc_length({0, 0, 0}, {20, 0, 0}, n, n), 20.0, 1e-12);
}

TEST(ArcLength, OfNoChordIsNothing) {
    EXPECT_EQ(arc_length({1, 2, 3}, {1, 2, 3}, {0, 0, 1}, {1, 0, 0}), 0.0);
    // Normals that cancel name no plane to bend in.
    EXPECT_EQ(arc_length({0, 0, 0}, {4, 3, 0}, {0, 0, 1}, {0, 0, -1}), 5.0);
}

TEST(SetArcLengths, GivesEverySharedEdgeOneLength) {
    // On the sphere: great-circle arcs, for both of an edge's triangles.
    auto mesh = test::on_sphere(test::disc(80.0, 6), 100.0);
    const auto exact = mesh.edge_length;
    mesh.edge_length.clear();
    set_arc_lengths(mesh);
    ASSERT_EQ(mesh.edge_length.size(), exact.size());
    for (std::size_t t = 0; t < exact.size(); ++t)
        for (int i = 0; i < 3; ++i) EXPECT_NEAR(mesh.edge_length[t][i], exact[t][i], 1e-10);
}

TEST(SetArcLengths, TakesTheMeanOfBothSidesAlongACrease) {
    // Two triangles over one edge of 10 mm. On one side the edge is an arc of a circle with a turn
    // of 1 rad, on the other it is straight: half of each, by hand from c (f/2) / sin(f/2).
    SurfaceMesh mesh;
    mesh.position = {{0, 0, 0}, {10, 0, 0}, {5, 8, 0}, {5, -8, 0}};
    mesh.triangle = {{0, 1, 2}, {1, 0, 3}};
    const Vec3 up(0, 0, 1), left(-std::sin(0.5), 0, std::cos(0.5)),
        right(std::sin(0.5), 0, std::cos(0.5));
    mesh.corner_normal = {{left, right, up}, {up, up, up}};
    set_arc_lengths(mesh);
    const double bent = 10.0 * 0.5 / std::sin(0.5);
    EXPECT_NEAR(mesh.edge_length[0][0], 0.5 * (bent + 10.0), 1e-12);
    EXPECT_EQ(mesh.edge_length[0][0], mesh.edge_length[1][0]);
    // The other edges have one triangle each, and its own normals alone.
    EXPECT_NEAR(mesh.edge_length[1][1], std::hypot(5.0, 8.0), 1e-12);
    EXPECT_GT(mesh.edge_length[0][1], std::hypot(5.0, 8.0) + 1e-3);
}

TEST(Neighbours, AreThoseOfAnExhaustiveSearch) {
    // In any order and from any corner, so that nothing depends on how the mesh was made.
    std::mt19937 random(991);  // fixed start value
    auto figure = test::with_hole(test::disc(50.0, 7), {11, 5}, 12.0);
    std::shuffle(figure.triangle.begin(), figure.triangle.end(), random);
    for (auto& v : figure.triangle) std::rotate(v.begin(), v.begin() + random() % 3, v.end());
    SurfaceMesh mesh;
    mesh.triangle = figure.triangle;  // positions are not asked for
    const auto across = neighbours(mesh);
    ASSERT_EQ(across.size(), mesh.triangle.size());
    for (std::size_t t = 0; t < across.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            std::int32_t found = -1;
            for (std::size_t n = 0; n < across.size(); ++n)
                for (int k = 0; k < 3; ++k)
                    if (mesh.triangle[n][k] == mesh.triangle[t][(i + 1) % 3] &&
                        mesh.triangle[n][(k + 1) % 3] == mesh.triangle[t][i])
                        found = static_cast<std::int32_t>(n);
            EXPECT_EQ(across[t][i], found) << t << " " << i;
        }
}

TEST(Neighbours, OfNoTrianglesAreNone) {
    EXPECT_TRUE(neighbours(SurfaceMesh{}).empty());
    EXPECT_TRUE(boundary_loops(SurfaceMesh{}).empty());
}

Loop2 in_plane(const test::PlaneMesh& figure, const std::vector<std::int32_t>& loop) {
    Loop2 out;
    for (const std::int32_t v : loop) out.push_back(figure.place[v]);
    return out;
}

TEST(BoundaryLoops, KeepTheSurfaceOnTheirLeft) {
    // Signed areas by the shoelace formula: the outer loop positive, each opening negative, and
    // together the area of the triangles.
    const auto figure =
        test::with_hole(test::with_hole(test::disc(60.0, 12), {-25, 0}, 9.0), {20, 15}, 14.0);
    SurfaceMesh mesh;
    mesh.triangle = figure.triangle;
    const auto loops = boundary_loops(mesh);
    ASSERT_EQ(loops.size(), 3u);
    int outer = 0;
    double sum = 0.0;
    for (const auto& loop : loops) {
        const double a = signed_area(in_plane(figure, loop));
        outer += a > 0.0 ? 1 : 0;
        sum += a;
    }
    EXPECT_EQ(outer, 1);
    double area = 0.0;
    for (const auto& t : figure.triangle)
        area += 0.5 * cross2(figure.place[t[1]] - figure.place[t[0]],
                             figure.place[t[2]] - figure.place[t[0]]);
    EXPECT_NEAR(sum, area, 1e-9);
}

TEST(BoundaryLoops, OfADiscIsItsRimInOrder) {
    // By construction: 6 k vertices on ring k, evenly round.
    const auto figure = test::disc(60.0, 5);
    SurfaceMesh mesh;
    mesh.triangle = figure.triangle;
    const auto loops = boundary_loops(mesh);
    ASSERT_EQ(loops.size(), 1u);
    ASSERT_EQ(loops[0].size(), 30u);
    const Loop2 rim = in_plane(figure, loops[0]);
    for (std::size_t i = 0; i < rim.size(); ++i) {
        EXPECT_NEAR(rim[i].norm(), 60.0, 1e-9);
        EXPECT_NEAR((rim[(i + 1) % rim.size()] - rim[i]).norm(), 2 * 60.0 * std::sin(pi / 30),
                    1e-9);
    }
}

TEST(BoundaryLoops, OfASlitGoUpOneSideAndDownTheOther) {
    // The slit's two edges are rim as well: 30 round, and 3 each way from ring 2 outward, whose
    // inner end is one vertex.
    const auto figure = test::with_slit(test::disc(60.0, 5), 2);
    SurfaceMesh mesh;
    mesh.triangle = figure.triangle;
    const auto loops = boundary_loops(mesh);
    ASSERT_EQ(loops.size(), 1u);
    EXPECT_EQ(loops[0].size(), 36u);
}

TEST(BoundaryLoops, OfAClosedSurfaceAreNone) {
    // A tetrahedron.
    SurfaceMesh mesh;
    mesh.triangle = {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}};
    EXPECT_TRUE(boundary_loops(mesh).empty());
    for (const auto& n : neighbours(mesh))
        for (const std::int32_t t : n) EXPECT_GE(t, 0);
}

}  // namespace
}  // namespace tearline::surface
