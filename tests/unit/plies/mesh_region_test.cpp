#include "core/plies/mesh_region.h"

#include <gtest/gtest.h>

#include "core/plane/nearest_on_line.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/mesh_checks.h"
#include "tests/support/region_checks.h"

namespace tearline::plies {
namespace {

using test::circle;
using test::round_hole;
using std::numbers::pi;

TEST(MeshRegion, AreaOfAGeodesicDiscOnTheSphereIsTheClosedForm) {
    // SOURCES.md section 6: A = 2 pi R^2 (1 - cos(r/R)); the chart's radius is the geodesic one.
    for (const double R : {500.0, 1000.0, 2000.0}) {
        const auto patch =
            test::analytic_patch(test::sphere_map(R), test::within_disc(340), 340, 12);
        const auto m = mesh_region(patch, {circle(300, {0, 0}, 600), {}});
        ASSERT_TRUE(m) << m.error().message();
        const double exact = 2 * pi * R * R * (1 - std::cos(300 / R));
        EXPECT_NEAR(test::intrinsic_area(m->mesh) / exact, 1.0, 5e-4) << R;
        EXPECT_GT(m->mesh.triangle.size(), 3500u);
        EXPECT_LT(m->mesh.triangle.size(), 6500u);
        EXPECT_GT(test::smallest_angle(*m), 15.0);
        test::expect_conforming(*m, 0);
    }
}

TEST(MeshRegion, KeepsTheOutlineWithCornersAndHoles) {
    const auto patch = test::analytic_patch(test::plane_map, test::within_box(320, 320), 330, 12);
    const Loop2 square{{-250, -250}, {250, -250}, {250, 250}, {-250, 250}};
    const Loop2 hole = round_hole(80, {60, 40}, 300);
    const auto m = mesh_region(patch, {square, {hole}});
    ASSERT_TRUE(m) << m.error().message();
    test::expect_conforming(*m, 1);
    for (const Vec2& corner : square) {
        double best = 1e300;
        for (const Vec2& p : m->chart) best = std::min(best, (p - corner).norm());
        EXPECT_LT(best, 1e-9);
    }
    EXPECT_LT(test::farthest_from_rim(*m, hole), 0.03);
    EXPECT_NEAR(test::intrinsic_area(m->mesh), 250000 - pi * 80 * 80, 5.0);
    EXPECT_GT(test::smallest_angle(*m), 15.0);
}

TEST(MeshRegion, CreasesAreEdgesWithANormalForEachSide) {
    // The wedge's planes: normals (+-sin(a), 0, cos(a)), a half the turn, on the two sides of x =
    // 0.
    const double turn = 0.8;
    const auto patch =
        test::analytic_patch(test::wedge_map(turn), test::within_box(220, 220), 220, 10, true);
    const auto m = mesh_region(patch, {circle(150, {13.7, 5.1}, 400), {}});
    ASSERT_TRUE(m) << m.error().message();
    test::expect_conforming(*m, 0);
    EXPECT_GT(test::smallest_angle(*m), 15.0);
    double along = 0.0;
    for (std::size_t t = 0; t < m->mesh.triangle.size(); ++t) {
        const auto& v = m->mesh.triangle[t];
        double low = 1e300, high = -1e300;
        for (const int c : v) {
            low = std::min(low, m->chart[c].x());
            high = std::max(high, m->chart[c].x());
        }
        EXPECT_FALSE(low < -1e-9 && high > 1e-9) << "a triangle spans the crease";
        const double side = high > 1e-9 ? 1.0 : -1.0;
        for (int i = 0; i < 3; ++i) {
            EXPECT_NEAR(m->mesh.corner_normal[t][i].x(), side * std::sin(turn / 2), 1e-12);
            if (m->crease[t][i]) along += 0.5 * (m->chart[v[(i + 1) % 3]] - m->chart[v[i]]).norm();
        }
    }
    // The chord of the circle along x = 0.
    EXPECT_NEAR(along, 2 * std::sqrt(150.0 * 150 - 13.7 * 13.7), 0.05);
}

TEST(MeshRegion, KeepsAskedLinesAsEdges) {
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(240), 240, 12);
    RegionMeshOptions options;
    options.triangles = 3000;
    Loop2 ring = circle(120, {0, 0}, 300);
    ring.push_back(ring.front());
    options.lines.push_back(ring);
    const auto m = mesh_region(patch, {circle(200, {0, 0}, 400), {}}, options);
    ASSERT_TRUE(m) << m.error().message();
    test::expect_conforming(*m, 0);
    double along = 0.0;
    for (std::size_t t = 0; t < m->mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (m->kink[t][i]) along += 0.5 * m->mesh.edge_length[t][i];
    EXPECT_NEAR(along, 2 * pi * 120, 0.2);
    EXPECT_GT(test::smallest_angle(*m), 15.0);
}

TEST(MeshRegion, ALineThatRunsAlongTheOutlineAndThenLeavesItIsNoChordAcross) {
    // Levels of the dish lie on the outline where the hull's end cuts both off. By construction:
    // every kept edge lies on the line asked for, and none is far longer than the mesh's own.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(240), 240, 12);
    RegionMeshOptions options;
    options.triangles = 3000;
    std::vector<Vec2> line;
    for (double degrees = -60; degrees <= 60; degrees += 0.5)
        line.push_back(199.3 * Vec2(std::cos(degrees * pi / 180), std::sin(degrees * pi / 180)));
    const Vec2 inner(0, 0), first = line.front(), last = line.back();
    for (double part = 0.05; part < 1; part += 0.05) line.push_back(last + part * (inner - last));
    for (double part = 0.0; part < 1; part += 0.05) line.push_back(inner + part * (first - inner));
    line.push_back(first);
    options.lines.push_back(line);
    const auto m = mesh_region(patch, {circle(200, {0, 0}, 400), {}}, options);
    ASSERT_TRUE(m) << m.error().message();
    test::expect_conforming(*m, 0);
    double along = 0.0;
    for (std::size_t t = 0; t < m->mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            if (!m->kink[t][i]) continue;
            EXPECT_LT(m->mesh.edge_length[t][i], 20.0);
            const Vec2 middle = 0.5 * (m->chart[m->mesh.triangle[t][i]] +
                                       m->chart[m->mesh.triangle[t][(i + 1) % 3]]);
            EXPECT_LT(plane::distance_to_loop(line, middle), 3.0);
            along += 0.5 * m->mesh.edge_length[t][i];
        }
    EXPECT_NEAR(along, 2 * 199.3, 25.0);
}

TEST(MeshRegion, IsFinerWhereTheRadiusIsSmallButNotBeyondThreeTimes) {
    const auto patch =
        test::analytic_patch([](const Vec2& p, int) { return test::bilge_map(20.0, p); },
                             test::within_box(330, 330), 330, 8);
    const auto m = mesh_region(patch, {circle(300, {10, 0}, 600), {}});
    ASSERT_TRUE(m) << m.error().message();
    EXPECT_LT(m->mesh.triangle.size(), 13000u);
    EXPECT_GT(test::smallest_angle(*m), 15.0);
    int inside = 0;
    double longest = 0.0;
    for (std::size_t t = 0; t < m->mesh.triangle.size(); ++t) {
        const auto& v = m->mesh.triangle[t];
        const Vec2 centre = (m->chart[v[0]] + m->chart[v[1]] + m->chart[v[2]]) / 3.0;
        if (centre.x() < 2 || centre.x() > 29) continue;
        ++inside;
        for (int i = 0; i < 3; ++i) longest = std::max(longest, m->mesh.edge_length[t][i]);
    }
    EXPECT_GT(inside, 0);
    EXPECT_LT(longest, 12.0);  // 0.35 of the radius is 7; the lattices step by halves
    // A development: the area is the disc's.
    EXPECT_NEAR(test::intrinsic_area(m->mesh) / (pi * 300 * 300), 1.0, 5e-4);
}

TEST(MeshRegion, MakesNoSliversOfJogsInTheOutline) {
    // Fronts that cross leave jogs of hundredths of a millimetre in a net line.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(240), 240, 12);
    Loop2 jogged;
    for (const Vec2& p : circle(200, {0, 0}, 400)) {
        jogged.push_back(p);
        if (jogged.size() % 7 == 0) jogged.push_back(p * (1 - 1e-4) + 0.01 * turned_left(p) / 200);
    }
    const auto m = mesh_region(patch, {jogged, {}});
    ASSERT_TRUE(m) << m.error().message();
    EXPECT_GT(test::smallest_angle(*m), 10.0);
    EXPECT_LT(test::farthest_from_rim(*m, jogged), 0.05);
}

TEST(MeshRegion, RefusesARegionWithoutArea) {
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(50), 50, 8);
    const auto m = mesh_region(patch, {{{0, 0}, {10, 0}}, {}});
    ASSERT_FALSE(m);
    EXPECT_EQ(m.error().kind, ErrorKind::no_safe_answer);
}

}  // namespace
}  // namespace tearline::plies
