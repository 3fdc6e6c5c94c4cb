#include "core/surface/fast_marching.h"

#include <gtest/gtest.h>

#include <algorithm>
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

TEST(FastMarching, CarriesAStraightFrontWithoutError) {
    // Closed form: the front x = const is straight inside every triangle, so that the distance from
    // the line x = 0 is |x| to rounding; on a plane rolled up, slanting arcs of edge / R = 0.06 are
    // a hundred-millionth off those of the helix.
    for (const auto& map : {test::AnalyticMap(test::plane_map), test::cylinder_map(120)}) {
        const Patch patch = test::analytic_patch(map, test::within_box(90, 60), 100, 7);
        std::vector<KnownDistance> known;
        for (std::size_t v = 0; v < patch.chart.size(); ++v)
            if (patch.chart[v].x() == 0.0) known.push_back({static_cast<std::int32_t>(v), 0.0});
        ASSERT_GT(known.size(), 10u);
        const auto distance = march_distance(patch.mesh, known);
        for (std::size_t v = 0; v < patch.chart.size(); ++v) {
            // Near the two ends of the line the front comes round them.
            if (std::abs(patch.chart[v].y()) > 50.0 - 0.6 * std::abs(patch.chart[v].x())) continue;
            EXPECT_NEAR(distance[v], std::abs(patch.chart[v].x()), 1e-6);
        }
    }
}

TEST(FastMarching, FromSeveralPlacesIsTheLeastOfEach) {
    const Patch patch = test::analytic_patch(test::sphere_map(150), test::within_disc(90), 90, 8);
    const std::vector<KnownDistance> places{{10, 0.0}, {100, 12.0}, {250, 3.0}};
    const auto together = march_distance(patch.mesh, places);
    std::vector<std::vector<double>> alone;
    for (const KnownDistance& place : places) alone.push_back(march_distance(patch.mesh, {place}));
    int equal = 0;
    for (std::size_t v = 0; v < together.size(); ++v) {
        double least = 1e300;
        for (const auto& d : alone) least = std::min(least, d[v]);
        // Where fronts meet, one triangle may see both: a little less than either, never more.
        EXPECT_LE(together[v], least + 1e-9);
        EXPECT_GT(together[v], least - 4.0);
        equal += std::abs(together[v] - least) < 1e-9 ? 1 : 0;
    }
    EXPECT_GT(equal, static_cast<int>(together.size()) / 2);
}

TEST(FastMarching, IsNeverShorterThanTheStraightLineNorLongerThanTheEdges) {
    // Bounds by two other routes: the plane's own distance, and Dijkstra's along edges.
    const Patch patch = test::analytic_patch(test::plane_map, test::within_disc(80), 80, 6);
    const std::int32_t source = 40;
    const auto distance = march_distance(patch.mesh, {{source, 0.0}});
    std::vector<double> by_edges(patch.chart.size(), 1e300);
    by_edges[source] = 0.0;
    for (bool going = true; going;) {
        going = false;
        for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
            for (int i = 0; i < 3; ++i)
                for (const auto& [a, b] : {std::pair(i, (i + 1) % 3), std::pair((i + 1) % 3, i)}) {
                    const double d =
                        by_edges[patch.mesh.triangle[t][a]] + patch.mesh.edge_length[t][i];
                    double& there = by_edges[patch.mesh.triangle[t][b]];
                    if (d < there - 1e-12) there = d, going = true;
                }
    }
    for (std::size_t v = 0; v < patch.chart.size(); ++v) {
        EXPECT_GE(distance[v], (patch.chart[v] - patch.chart[source]).norm() - 1e-9);
        EXPECT_LE(distance[v], by_edges[v] + 1e-9);
    }
}

TEST(FastMarching, LeavesWhatHangsNowhereAtInfinity) {
    // Two sheets that share nothing.
    SurfaceMesh mesh;
    mesh.position = {{0, 0, 0}, {3, 0, 0}, {0, 4, 0}, {50, 0, 0}, {53, 0, 0}, {50, 4, 0}};
    mesh.triangle = {{0, 1, 2}, {3, 4, 5}};
    mesh.edge_length = {{3, 5, 4}, {3, 5, 4}};
    const auto distance = march_distance(mesh, {{0, 1.0}});
    EXPECT_DOUBLE_EQ(distance[1], 4.0);
    EXPECT_DOUBLE_EQ(distance[2], 5.0);
    for (int v = 3; v < 6; ++v) EXPECT_TRUE(std::isinf(distance[v]));
}

TEST(FastMarching, TakesAFrontOnlyWhereItComesInThroughTheEdge) {
    // By hand, edge (0,0)-(10,0). A front that rises by 0.6 a mm along it runs (0.6, 0.8): over
    // (8, 3) it is at 0.6 x 8 + 0.8 x 3 = 7.2, having crossed the edge at 8 - 3 x 0.75 = 5.75.
    // One that rises by 0.9 would reach (1, 4) through x = 1 - 4 x 2.06, off the edge: there the
    // way along the side, sqrt(17), is the shortest known.
    SurfaceMesh mesh;
    mesh.position.resize(3);
    mesh.triangle = {{0, 1, 2}};
    mesh.edge_length = {{10.0, std::hypot(2.0, 3.0), std::hypot(8.0, 3.0)}};
    EXPECT_NEAR(march_distance(mesh, {{0, 0.0}, {1, 6.0}})[2], 7.2, 1e-12);
    mesh.edge_length = {{10.0, std::hypot(9.0, 4.0), std::sqrt(17.0)}};
    EXPECT_NEAR(march_distance(mesh, {{0, 0.0}, {1, 9.0}})[2], std::sqrt(17.0), 1e-12);
}

}  // namespace
}  // namespace tearline::surface
