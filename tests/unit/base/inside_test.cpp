#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "core/base/outline.h"

namespace tearline {
namespace {

/// How often a closed line goes round a point: the sum of the angles that its sides are seen under.
int winding(const Loop2& loop, const Vec2& point) {
    double angle = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 a = loop[i] - point, b = loop[(i + 1) % loop.size()] - point;
        angle += std::atan2(cross2(a, b), a.dot(b));
    }
    return static_cast<int>(std::lround(angle / (2.0 * std::numbers::pi)));
}

/// A star-shaped polygon about the origin.
Loop2 star(std::mt19937& draw, int corners) {
    std::uniform_real_distribution<double> radius(20.0, 100.0);
    Loop2 loop;
    for (int i = 0; i < corners; ++i) {
        const double a = 2.0 * std::numbers::pi * i / corners;
        loop.push_back(radius(draw) * Vec2(std::cos(a), std::sin(a)));
    }
    return loop;
}

TEST(Contains, AgreesWithTheWindingNumber) {
    // Second route: a point is inside where the polygon goes once round it.
    std::mt19937 draw(20261129);
    std::uniform_real_distribution<double> place(-110.0, 110.0);
    int inside = 0;
    for (int shape = 0; shape < 20; ++shape) {
        const Loop2 loop = star(draw, 5 + shape);
        for (int i = 0; i < 200; ++i) {
            const Vec2 point(place(draw), place(draw));
            const bool in = contains(loop, point);
            EXPECT_EQ(in, winding(loop, point) == 1);
            inside += in;
        }
    }
    EXPECT_GT(inside, 400);
}

TEST(Contains, OfARegionLeavesItsHolesOut) {
    const Region2 ring{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {{{4, 4}, {4, 6}, {6, 6}, {6, 4}}}};
    EXPECT_TRUE(contains(ring, {2, 2}));
    EXPECT_FALSE(contains(ring, {5, 5}));
    EXPECT_FALSE(contains(ring, {12, 5}));
}

TEST(SignedArea, IsTheSameWhereverThePolygonLies) {
    // Shoelace about the origin for polygons near it; far off by a kilometre it may not cancel.
    std::mt19937 draw(7);
    for (int shape = 0; shape < 20; ++shape) {
        Loop2 loop = star(draw, 9);
        double twice = 0.0;
        for (std::size_t i = 0; i < loop.size(); ++i) twice += cross2(loop[i], loop[(i + 1) % 9]);
        EXPECT_NEAR(signed_area(loop), 0.5 * twice, 1e-9);
        for (Vec2& p : loop) p += Vec2(1e6, -2e6);
        EXPECT_NEAR(signed_area(loop), 0.5 * twice, 1e-5);
    }
}

TEST(Perimeter, OfPlaneAndSpaceLoopsIsTheSumOfTheirSides) {
    // By hand: 3, 4, 5; and the same triangle standing in space.
    EXPECT_DOUBLE_EQ(perimeter(Loop2{{0, 0}, {3, 0}, {3, 4}}), 12.0);
    EXPECT_DOUBLE_EQ(perimeter(Loop3{{0, 0, 7}, {0, 3, 7}, {0, 3, 11}}), 12.0);
    EXPECT_DOUBLE_EQ(perimeter(Loop2{}), 0.0);
}

TEST(ConvexHull, HoldsEveryPointAndTurnsLeftOnly) {
    std::mt19937 draw(11);
    std::uniform_real_distribution<double> place(-50.0, 50.0);
    for (int round = 0; round < 30; ++round) {
        Loop2 points;
        for (int i = 0; i < 40; ++i) points.emplace_back(place(draw), place(draw));
        const Loop2 hull = convex_hull(points);
        for (std::size_t i = 0; i < hull.size(); ++i) {
            const Vec2 a = hull[i], b = hull[(i + 1) % hull.size()];
            const Vec2 c = hull[(i + 2) % hull.size()];
            EXPECT_GT(cross2(b - a, c - b), 0.0);
            for (const Vec2& p : points) EXPECT_GE(cross2(b - a, p - a), -1e-9);
        }
    }
}

}  // namespace
}  // namespace tearline
