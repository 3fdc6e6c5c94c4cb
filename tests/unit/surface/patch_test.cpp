#include "core/surface/patch.h"

#include <gtest/gtest.h>

#include <numbers>
#include <random>

#include "tests/support/analytic_patch.h"

namespace tearline::surface {
namespace {

TEST(Patch, LocateFindsTheTriangleUnderEveryChartPoint) {
    const Patch patch =
        test::analytic_patch(test::sphere_map(500), test::within_disc(200), 200, 12);
    std::mt19937 random(20240611);  // fixed start value
    std::uniform_real_distribution<double> across(-190.0, 190.0);
    int inside = 0;
    for (int i = 0; i < 2000; ++i) {
        const Vec2 p(across(random), across(random));
        const auto at = patch.locate(p);
        ASSERT_EQ(at.has_value(), contains(patch.domain(), p)) << p.transpose();
        if (!at) continue;
        ++inside;
        EXPECT_LT((patch.chart_point(*at) - p).norm(), 1e-9);
    }
    EXPECT_GT(inside, 1000);
}

TEST(Patch, LocateFindsVerticesAndRefusesOutside) {
    const Patch patch = test::analytic_patch(test::plane_map, test::within_box(50, 50), 60, 10);
    for (const Vec2& v : patch.chart) EXPECT_TRUE(patch.locate(v)) << v.transpose();
    EXPECT_FALSE(patch.locate({1000, 0}));
    EXPECT_FALSE(patch.locate({-60, 0}));
}

TEST(Patch, NearestAgreesWithExhaustiveSearch) {
    // Second route: every triangle in turn.
    const Patch patch = test::analytic_patch(test::sphere_map(100), test::within_disc(140), 140, 9);
    std::mt19937 random(7);
    std::uniform_real_distribution<double> across(-150.0, 150.0);
    for (int i = 0; i < 200; ++i) {
        const Vec3 p(across(random), across(random), across(random));
        double best = 1e300;
        for (const auto& t : patch.mesh.triangle) {
            // Sampled on a fine grid of each triangle: an upper bound that comes close.
            for (int a = 0; a <= 8; ++a)
                for (int b = 0; a + b <= 8; ++b) {
                    const Vec3 q = (a * patch.mesh.position[t[0]] + b * patch.mesh.position[t[1]] +
                                    (8 - a - b) * patch.mesh.position[t[2]]) /
                                   8.0;
                    best = std::min(best, (p - q).norm());
                }
        }
        const auto found = patch.nearest(p);
        EXPECT_LE(found.distance, best + 1e-9);
        EXPECT_GT(found.distance, best - 1.0);
        const auto& v = patch.mesh.triangle[found.at.triangle.index()];
        const Vec3 q = found.at.weights[0] * patch.mesh.position[v[0]] +
                       found.at.weights[1] * patch.mesh.position[v[1]] +
                       found.at.weights[2] * patch.mesh.position[v[2]];
        EXPECT_NEAR((p - q).norm(), found.distance, 1e-9);
    }
}

TEST(Patch, DomainIsCounterClockwiseWithItsOpeningsAsHoles) {
    const auto ring = [](const Vec2& p) { return p.norm() < 100 && p.norm() > 40; };
    const Patch patch = test::analytic_patch(test::plane_map, ring, 100, 8);
    EXPECT_GT(signed_area(patch.domain().outer), 0.0);
    ASSERT_EQ(patch.domain().holes.size(), 1u);
    EXPECT_LT(signed_area(patch.domain().holes[0]), 0.0);
}

TEST(Patch, ChainsACreaseIntoOneLine) {
    const Patch patch =
        test::analytic_patch(test::wedge_map(0.8), test::within_box(60, 60), 60, 10, true);
    ASSERT_EQ(patch.crease_lines().size(), 1u);
    EXPECT_EQ(patch.crease_lines()[0].size(), 13u);  // -60 to 60 in steps of 10
}

TEST(Patch, ArcLengthsGiveTheSphereItsTrueRadiusFromThePole) {
    // Closed form: the chart of the sphere map is radially exact, whatever the mesh.
    const Patch patch =
        test::analytic_patch(test::sphere_map(100), test::within_disc(140), 140, 10);
    double along = 0.0;
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const Vec2 a = patch.chart[patch.mesh.triangle[t][i]];
            const Vec2 b = patch.chart[patch.mesh.triangle[t][(i + 1) % 3]];
            if (a.x() == 0.0 && b.x() == 0.0 && a.y() >= 0.0 && b.y() > a.y())
                along += patch.mesh.edge_length[t][i];
        }
    EXPECT_NEAR(along, 140.0, 1e-9);
}

}  // namespace
}  // namespace tearline::surface
