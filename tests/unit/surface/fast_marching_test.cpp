#include "core/surface/fast_marching.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/analytic_patch.h"

namespace tearline::surface {
namespace {

/// March from a disc of exact values round the chart's origin, where distance is the chart radius.
double worst_error(const Patch& patch, double start, double reach) {
    std::vector<KnownDistance> known;
    for (std::size_t v = 0; v < patch.chart.size(); ++v)
        if (patch.chart[v].norm() <= start)
            known.push_back({static_cast<std::int32_t>(v), patch.chart[v].norm()});
    const auto distance = march_distance(patch.mesh, known);
    double worst = 0.0;
    for (std::size_t v = 0; v < patch.chart.size(); ++v)
        if (patch.chart[v].norm() < reach)
            worst = std::max(worst, std::abs(distance[v] - patch.chart[v].norm()));
    return worst;
}

/// Derived: a straight front over a row of triangles, height h sqrt(3)/2, misses at most the
/// sagitta h^2 / 8 r of a front of radius r; summed over the rows from r_start to r_end.
double first_order_bound(double edge, double start, double reach) {
    return edge / (4.0 * std::sqrt(3.0)) * std::log(reach / start);
}

TEST(FastMarching, GivesTheRadiusInThePlane) {
    const Patch patch = test::analytic_patch(test::plane_map, test::within_disc(200), 200, 8);
    EXPECT_LT(worst_error(patch, 50, 190), first_order_bound(8, 50, 190));
}

TEST(FastMarching, GivesGreatCircleDistancesOnTheSphere) {
    const Patch patch = test::analytic_patch(test::sphere_map(300), test::within_disc(200), 200, 8);
    EXPECT_LT(worst_error(patch, 50, 190), first_order_bound(8, 50, 190));
}

TEST(FastMarching, ConvergesAsTheTrianglesShrink) {
    const Patch coarse = test::analytic_patch(test::plane_map, test::within_disc(200), 200, 16);
    const Patch fine = test::analytic_patch(test::plane_map, test::within_disc(200), 200, 4);
    EXPECT_LT(worst_error(fine, 50, 180), 0.5 * worst_error(coarse, 50, 180));
}

TEST(FastMarching, GoesRoundAnOpening) {
    // Closed form: over an opening of radius 60, from (100, 0) to (-100, 0), two tangents and an
    // arc.
    const auto ring = [](const Vec2& p) { return p.norm() <= 160 && p.norm() >= 60; };
    const Patch patch = test::analytic_patch(test::plane_map, ring, 160, 4);
    const auto nearest = [&](const Vec2& p) {
        std::size_t best = 0;
        for (std::size_t v = 0; v < patch.chart.size(); ++v)
            if ((patch.chart[v] - p).norm() < (patch.chart[best] - p).norm()) best = v;
        return static_cast<std::int32_t>(best);
    };
    const std::int32_t from = nearest({100, 0});
    const std::int32_t to = nearest({-100, 0});
    const auto distance = march_distance(patch.mesh, {{from, 0.0}});
    const double tangent = std::sqrt(100.0 * 100 - 60 * 60);
    const double arc = 60 * (std::numbers::pi - 2 * std::acos(0.6));
    EXPECT_NEAR(distance[to], 2 * tangent + arc, 6.0);  // vertices lie up to 2 mm off the points
}

TEST(FastMarching, StopsAtItsLimit) {
    const Patch patch = test::analytic_patch(test::plane_map, test::within_disc(100), 100, 8);
    const auto distance = march_distance(patch.mesh, {{0, 0.0}}, 30.0);
    for (std::size_t v = 0; v < distance.size(); ++v) {
        const double d = (patch.chart[v] - patch.chart[0]).norm();
        if (d > 31.0) {
            EXPECT_TRUE(std::isinf(distance[v]));
        }
        if (d < 25.0) {
            EXPECT_TRUE(std::isfinite(distance[v]));
        }
    }
}

}  // namespace
}  // namespace tearline::surface
