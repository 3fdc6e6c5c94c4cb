#include "core/surface/locate_near.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/analytic_patch.h"
#include "tests/support/loops.h"

namespace tearline::surface {
namespace {

/// A cap with an opening: a rim outside and one inside.
Patch ring_patch() {
    return test::analytic_patch(
        test::sphere_map(400),
        [](const Vec2& p) { return p.norm() <= 100 && (p - Vec2(20, 0)).norm() >= 25; }, 100, 9);
}

double from_rim(const Patch& patch, const Vec2& p) {
    double least = test::distance_to(patch.domain().outer, p);
    for (const Loop2& hole : patch.domain().holes)
        least = std::min(least, test::distance_to(hole, p));
    return least;
}

TEST(LocateNear, IsThePointItselfOnThePatch) {
    const Patch patch = ring_patch();
    for (const Vec2& p : {Vec2(-60, 20), Vec2(0, 50), Vec2(70, -30)}) {
        const NearLocation found = locate_near(patch, p);
        EXPECT_EQ(found.chart, p);
        EXPECT_LT((patch.chart_point(found.at) - p).norm(), 1e-9);
    }
}

TEST(LocateNear, IsTheNearestPointOfTheRimOutside) {
    // Second route: distances from the domain's loops. Beyond the rim, and in the opening.
    const Patch patch = ring_patch();
    std::mt19937 random(4711);  // fixed start value
    std::uniform_real_distribution<double> across(-115.0, 115.0);
    int beyond = 0, in_opening = 0;
    for (int k = 0; k < 800; ++k) {
        const Vec2 p(across(random), across(random));
        if (contains(patch.domain(), p)) continue;
        (p.norm() > 60 ? beyond : in_opening) += 1;
        const NearLocation found = locate_near(patch, p);
        EXPECT_NEAR((found.chart - p).norm(), from_rim(patch, p), 1e-9) << p.transpose();
        EXPECT_LT(from_rim(patch, found.chart), 1e-9);
        EXPECT_LT((patch.chart_point(found.at) - found.chart).norm(), 1e-9);
        EXPECT_NEAR(found.at.weights.sum(), 1.0, 1e-12);
        EXPECT_GE(found.at.weights.minCoeff(), 0.0);
    }
    EXPECT_GT(beyond, 100);
    EXPECT_GT(in_opening, 10);
}

TEST(InTriangle, HasThePointsOwnWeightsInsideAndDrawsItInOutside) {
    // By hand in one triangle with corners (0,0), (10,0), (0,10): (2,3) has weights 0.5, 0.2, 0.3;
    // (-2, 4) has 0.8, -0.2, 0.4, drawn in 2/3, 0, 1/3.
    Patch patch;
    patch.chart = {{0, 0}, {10, 0}, {0, 10}};
    patch.mesh.triangle = {{0, 1, 2}};
    const Location inside = in_triangle(patch, TriangleId(0), {2, 3});
    EXPECT_LT((inside.weights - Vec3(0.5, 0.2, 0.3)).norm(), 1e-12);
    const Location outside = in_triangle(patch, TriangleId(0), {-2, 4});
    EXPECT_LT((outside.weights - Vec3(2.0 / 3.0, 0.0, 1.0 / 3.0)).norm(), 1e-12);
    EXPECT_EQ(outside.triangle, TriangleId(0));
}

TEST(ChartDirection, UndoesSpaceDirection) {
    // Round trip in every triangle, whatever the shape of the surface.
    for (const auto& map : {test::sphere_map(-150), test::cylinder_map(80)}) {
        const Patch patch = test::analytic_patch(map, test::within_disc(60), 60, 10);
        for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t) {
            const Vec2 d(0.6, -1.7);
            const Vec3 in_space = space_direction(patch, TriangleId(t), d);
            EXPECT_LT((chart_direction(patch, TriangleId(t), in_space) - d).norm(), 1e-12);
            // What stands square to the facet has no place in the chart.
            const auto& v = patch.mesh.triangle[t];
            const Vec3 square = (patch.mesh.position[v[1]] - patch.mesh.position[v[0]])
                                    .cross(patch.mesh.position[v[2]] - patch.mesh.position[v[0]]);
            EXPECT_LT((chart_direction(patch, TriangleId(t), in_space + 0.1 * square) - d).norm(),
                      1e-10);
        }
    }
}

TEST(SpaceDirection, IsTheSurfacesOwnDerivativeToFirstOrder) {
    // Closed form: on a cylinder of radius R rolled from its chart, d/dx at x is
    // (cos(x/R), 0, -sin(x/R)) and d/dy is (0, 1, 0). A facet's map is the mean over its edge of
    // 4 mm: off by less than edge / R.
    constexpr double R = 100.0, edge = 4.0;
    const Patch patch =
        test::analytic_patch(test::cylinder_map(R), test::within_disc(60), 60, edge);
    for (const double x : {-50.0, -10.0, 0.0, 31.0, 55.0}) {
        const auto at = patch.locate({x, 3.0});
        ASSERT_TRUE(at);
        const Vec3 round = space_direction(patch, at->triangle, {1, 0});
        EXPECT_LT((round - Vec3(std::cos(x / R), 0.0, -std::sin(x / R))).norm(), edge / R);
        const Vec3 along = space_direction(patch, at->triangle, {0, 1});
        EXPECT_LT((along - Vec3(0, 1, 0)).norm(), 1e-12);
    }
}

TEST(CornerNormal, IsThatOfTheSphereToSecondOrder) {
    // At a vertex exactly; between, the mean direction of three normals a few degrees apart.
    const Patch patch = test::analytic_patch(test::sphere_map(200), test::within_disc(90), 90, 10);
    std::mt19937 random(5);
    std::uniform_real_distribution<double> across(-60.0, 60.0);
    for (int k = 0; k < 100; ++k) {
        const Vec2 p(across(random), across(random));
        const auto at = patch.locate(p);
        ASSERT_TRUE(at);
        const Vec3 n = corner_normal(patch.mesh, *at);
        EXPECT_NEAR(n.norm(), 1.0, 1e-12);
        // (edge / R)^2 / 8 is what a parabola's chord misses.
        EXPECT_LT((n - test::sphere_map(200)(p, 1).normal).norm(), 0.05 * 0.05 / 2);
    }
}

TEST(CornerNormal, KeepsToItsTrianglesSideOfACrease) {
    const double turn = 1.0;
    const Patch patch =
        test::analytic_patch(test::wedge_map(turn), test::within_box(40, 40), 50, 10, true);
    for (const double x : {-1e-7, 1e-7}) {
        const auto at = patch.locate({x, 3.0});
        ASSERT_TRUE(at);
        const double a = x < 0 ? -0.5 * turn : 0.5 * turn;
        EXPECT_LT((corner_normal(patch.mesh, *at) - Vec3(std::sin(a), 0, std::cos(a))).norm(),
                  1e-12);
    }
}

}  // namespace
}  // namespace tearline::surface
