#include "core/formats/arcs.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace tearline::formats {
namespace {

Loop2 circle(double radius, int count) {
    Loop2 loop;
    for (int k = 0; k < count; ++k) {
        const double a = 2.0 * std::numbers::pi * k / count;
        loop.emplace_back(radius * std::cos(a), radius * std::sin(a));
    }
    return loop;
}

TEST(WithArcs, MakesAFewArcsOfACircle) {
    // Closed form: the arcs' angles, 4 atan of the bulge, add up to a whole turn.
    const auto points = with_arcs(circle(100.0, 360), 0.005);
    EXPECT_LE(points.size(), 6u);
    double angle = 0.0;
    for (const BulgedPoint& p : points) angle += 4.0 * std::atan(p.bulge);
    EXPECT_NEAR(angle, 2.0 * std::numbers::pi, 1e-6);
}

TEST(WithArcs, KeepsTheCornersOfASquareAndItsStraightSides) {
    const Loop2 square = {{0, 0}, {100, 0}, {100, 100}, {0, 100}};
    const auto points = with_arcs(square, 0.05);
    ASSERT_EQ(points.size(), 4u);
    for (std::size_t i = 0; i < 4; ++i) {
        EXPECT_EQ(points[i].at, square[i]);
        EXPECT_EQ(points[i].bulge, 0.0);
    }
}

TEST(WithArcs, RoundsTheEndsOfAStadiumAlone) {
    // Two half circles of 50 mm and two straight sides of 200 mm: bulges belong to the ends, and
    // the area with its segments is pi r^2 + 2 r x 200.
    Loop2 loop;
    for (int end = 0; end < 2; ++end)
        for (int k = 0; k <= 90; ++k) {
            const double a = std::numbers::pi * (k / 90.0 + end - 0.5);
            loop.emplace_back(50.0 * std::cos(a) + (end == 0 ? 100.0 : -100.0), 50.0 * std::sin(a));
        }
    const auto points = with_arcs(loop, 0.005);
    EXPECT_LE(points.size(), 12u);
    double area = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec2 &a = points[i].at, &b = points[(i + 1) % points.size()].at;
        area += 0.5 * cross2(a, b);
        const double sweep = 4.0 * std::atan(points[i].bulge);
        if (sweep == 0.0) continue;
        const double radius = (b - a).norm() / (2.0 * std::abs(std::sin(0.5 * sweep)));
        EXPECT_NEAR(radius, 50.0, 0.05);
        area += 0.5 * radius * radius * (sweep - std::sin(sweep));
    }
    EXPECT_NEAR(area, std::numbers::pi * 2500.0 + 20000.0, 3.0);
}

}  // namespace
}  // namespace tearline::formats
