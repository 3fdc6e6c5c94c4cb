#include "core/base/outline.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

namespace tearline {
namespace {

constexpr double degrees = 180.0 / std::numbers::pi;

Loop2 turned(Loop2 loop, double turn_degrees) {
    const double a = turn_degrees / degrees;
    for (Vec2& p : loop) p = std::cos(a) * p + std::sin(a) * turned_left(p);
    return loop;
}

double height(const Loop2& loop) {
    double low = 1e300, high = -1e300;
    for (const Vec2& p : loop) low = std::min(low, p.y()), high = std::max(high, p.y());
    return high - low;
}

TEST(Area, OfARegionIsLessItsHoles) {
    // By hand: 10 x 8 less 2 x 3 and a triangle of 1, whichever way the loops run.
    const Loop2 outer{{0, 0}, {10, 0}, {10, 8}, {0, 8}};
    const Loop2 hole{{1, 1}, {1, 4}, {3, 4}, {3, 1}}, corner{{5, 5}, {7, 5}, {5, 6}};
    EXPECT_DOUBLE_EQ(area({outer, {hole, corner}}), 80.0 - 6.0 - 1.0);
    EXPECT_DOUBLE_EQ(signed_area(outer), 80.0);
    EXPECT_DOUBLE_EQ(signed_area(hole), -6.0) << "clockwise";
}

TEST(ConvexHull, KeepsTheCornersAndDropsTheRest) {
    const Loop2 hull = convex_hull({{0, 0}, {2, 1}, {4, 0}, {4, 3}, {2, 3}, {0, 3}, {1, 1}});
    EXPECT_EQ(hull.size(), 4u);
    EXPECT_DOUBLE_EQ(signed_area(hull), 12.0);
}

TEST(BreadthAlong, OfASquareIsItsSideOrItsDiagonal) {
    const Loop2 square{{10, 10}, {13, 10}, {13, 13}, {10, 13}};
    EXPECT_DOUBLE_EQ(breadth_along(square, {0, 1}), 3.0);
    EXPECT_NEAR(breadth_along(square, Vec2(1, 1).normalized()), 3.0 * std::sqrt(2.0), 1e-12);
}

TEST(LeastBreadth, OfElementaryShapes) {
    const Loop2 strip = turned({{0, 0}, {500, 0}, {500, 120}, {0, 120}}, 37.0);
    EXPECT_NEAR(least_breadth(strip).width, 120.0, 1e-9);
    EXPECT_NEAR(least_breadth(strip).turn_degrees, 180.0 - 37.0, 1e-9);
    // An equilateral triangle is narrowest along its height.
    const Loop2 triangle{{0, 0}, {100, 0}, {50, 50.0 * std::sqrt(3.0)}};
    EXPECT_NEAR(least_breadth(triangle).width, 50.0 * std::sqrt(3.0), 1e-9);
}

TEST(LeastBreadth, IsNeverBeatenByTryingEveryTurn) {
    std::mt19937 draw(20240703);
    for (int shape = 0; shape < 20; ++shape) {
        Loop2 points;
        for (int i = 0; i < 12; ++i) points.emplace_back(draw() % 1000, draw() % 400);
        const Breadth found = least_breadth(points);
        EXPECT_NEAR(height(turned(points, found.turn_degrees)), found.width, 1e-9);
        double least = 1e300;
        for (int k = 0; k < 18000; ++k) least = std::min(least, height(turned(points, 0.01 * k)));
        EXPECT_LE(found.width, least + 1e-9);
        EXPECT_GE(found.width, least - 0.2) << "0.01 degrees of 1000 mm";
    }
}

}  // namespace
}  // namespace tearline
