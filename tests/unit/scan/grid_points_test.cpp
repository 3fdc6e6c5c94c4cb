#include "core/scan/grid_points.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/plane/nearest_on_line.h"

namespace tearline::scan {
namespace {

const Loop2 field{{-30, 10}, {270, 10}, {270, 210}, {-30, 210}};  // 300 x 200 mm

TEST(PointsInside, AreATriangularGridOfThatEdge) {
    const double edge = 10.0;
    const std::vector<Vec2> points = points_inside(field, edge);
    // A triangular grid has a point on every edge^2 sqrt(3)/2; half an edge is left free all round.
    const double each = edge * edge * std::sqrt(0.75);
    EXPECT_GT(static_cast<double>(points.size()),
              (300.0 - 2.5 * edge) * (200.0 - 2.5 * edge) / each);
    EXPECT_LT(static_cast<double>(points.size()), 300.0 * 200.0 / each);
    for (std::size_t i = 0; i < points.size(); ++i) {
        double nearest = 1e9;
        for (std::size_t j = 0; j < points.size(); ++j)
            if (j != i) nearest = std::min(nearest, (points[i] - points[j]).norm());
        ASSERT_NEAR(nearest, edge, 1e-9) << points[i].transpose();
    }
}

TEST(PointsInside, KeepHalfAnEdgeOffTheLoopAndInsideIt) {
    const Loop2 notched{{0, 0}, {100, 0}, {100, 100}, {50, 20}, {0, 100}};
    const std::vector<Vec2> points = points_inside(notched, 8.0);
    EXPECT_GT(points.size(), 50u);
    for (const Vec2& p : points) {
        EXPECT_TRUE(contains(notched, p));
        EXPECT_GT(plane::distance_to_loop(notched, p), 4.0);
    }
}

TEST(Stepped, KeepsCornersAndLengthAndStepsNoFartherThanAnEdge) {
    const Loop2 loop = stepped(field, 7.0);
    // 300 mm in 43 steps, 200 mm in 29.
    EXPECT_EQ(loop.size(), 2u * (43u + 29u));
    double round = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const double step = (loop[(i + 1) % loop.size()] - loop[i]).norm();
        EXPECT_LE(step, 7.0 + 1e-12);
        round += step;
    }
    EXPECT_NEAR(round, 1000.0, 1e-9);
    for (const Vec2& corner : field)
        EXPECT_EQ(std::count(loop.begin(), loop.end(), corner), 1) << corner.transpose();
}

}  // namespace
}  // namespace tearline::scan
