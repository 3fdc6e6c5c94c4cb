#include "core/surface/patch.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <stdexcept>

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

TEST(Patch, EndsACreaseLineWhereThreeMeet) {
    // By construction: three spokes of a flat hexagon are creases and meet in its middle. Each is a
    // line of its own, whichever end is come to first: no line goes on from one into the next.
    Patch patch = test::analytic_patch(test::plane_map, test::within_disc(41), 41, 10);
    const auto on_spoke = [](const Vec2& p, double degrees) {
        const double a = degrees * std::numbers::pi / 180.0;
        const Vec2 d(std::cos(a), std::sin(a));
        return std::abs(cross2(d, p)) < 1e-9 && p.dot(d) > -1e-9;
    };
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const Vec2& a = patch.chart[patch.mesh.triangle[t][i]];
            const Vec2& b = patch.chart[patch.mesh.triangle[t][(i + 1) % 3]];
            for (const double degrees : {90.0, 210.0, 330.0})
                if (on_spoke(a, degrees) && on_spoke(b, degrees)) patch.crease[t][i] = true;
        }
    finish_patch(patch);
    ASSERT_EQ(patch.crease_lines().size(), 3u);
    for (const auto& line : patch.crease_lines()) {
        EXPECT_EQ(line.size(), 5u);  // the middle and four steps of 10 mm
        const bool from = patch.chart[line.front()].norm() < 1e-9;
        EXPECT_TRUE(from || patch.chart[line.back()].norm() < 1e-9);
    }
}

TEST(Patch, ClosesACreaseThatComesRound) {
    // The hexagon's second ring as a crease: 12 edges, the first vertex repeated at the end.
    Patch patch = test::analytic_patch(test::plane_map, test::within_disc(41), 41, 10);
    const auto in_ring = [](const Vec2& p) {
        double most = 0.0;
        for (int k = 0; k < 6; ++k) {
            const double a = std::numbers::pi * k / 3.0;
            most = std::max(most, p.dot(Vec2(std::cos(a), std::sin(a))));
        }
        return std::abs(most - 20.0 * std::sqrt(3.0) / 2.0) < 1e-6;
    };
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i)
            patch.crease[t][i] = in_ring(patch.chart[patch.mesh.triangle[t][i]]) &&
                                 in_ring(patch.chart[patch.mesh.triangle[t][(i + 1) % 3]]);
    finish_patch(patch);
    ASSERT_EQ(patch.crease_lines().size(), 1u);
    EXPECT_EQ(patch.crease_lines()[0].size(), 13u);
    EXPECT_EQ(patch.crease_lines()[0].front(), patch.crease_lines()[0].back());
}

TEST(Patch, DomainHasTheAreaOfItsTriangles) {
    // Second route: the triangles' own areas. The outer loop is the widest, wherever it was found.
    const Patch patch = test::analytic_patch(
        test::plane_map,
        [](const Vec2& p) {
            return p.norm() < 90 && (p - Vec2(-40, 0)).norm() > 20 && (p - Vec2(40, 9)).norm() > 30;
        },
        90, 6);
    double triangles = 0.0;
    for (const auto& t : patch.mesh.triangle)
        triangles += 0.5 * cross2(patch.chart[t[1]] - patch.chart[t[0]],
                                  patch.chart[t[2]] - patch.chart[t[0]]);
    EXPECT_EQ(patch.domain().holes.size(), 2u);
    EXPECT_NEAR(area(patch.domain()), triangles, 1e-8);
}

TEST(Patch, ChartPointUndoesLocateAndSampleLiesOverIt) {
    // The plane's map is its chart: position, chart and distance say the same.
    const Patch patch = test::analytic_patch(test::plane_map, test::within_disc(50), 50, 7);
    for (const Vec2& p : {Vec2(0, 0), Vec2(12.5, -31), Vec2(-44, 3)}) {
        const Location at = *patch.locate(p);
        EXPECT_LT((patch.sample(at).position.head<2>() - p).norm(), 1e-9);
        const auto found = patch.nearest({p.x(), p.y(), -3.5});
        EXPECT_NEAR(found.distance, 3.5, 1e-12);
        EXPECT_LT((patch.chart_point(found.at) - p).norm(), 1e-9);
    }
}

TEST(Patch, WithoutAChartIsABrokenInvariant) {
    Patch patch = test::analytic_patch(test::plane_map, test::within_disc(30), 30, 10);
    patch.chart.pop_back();
    EXPECT_THROW(finish_patch(patch), std::logic_error);
}

}  // namespace
}  // namespace tearline::surface
