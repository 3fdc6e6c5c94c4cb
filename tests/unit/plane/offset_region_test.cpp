#include "core/plane/offset_region.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace tearline::plane {

namespace {

Loop2 circle(double radius, int points) {
    Loop2 loop;
    for (int i = 0; i < points; ++i) {
        const double a = 2.0 * std::numbers::pi * i / points;
        loop.emplace_back(radius * std::cos(a), radius * std::sin(a));
    }
    return loop;
}

Loop2 square(double side) {
    return {{0, 0}, {side, 0}, {side, side}, {0, side}};
}

}  // namespace

// Expected: Steiner's formula A + P m + pi m^2 for convex outlines (SOURCES.md section 6, derived).
TEST(OffsetRegion, WidensADiscBySteinersFormula) {
    const auto wide = offset_region({circle(150.0, 7200), {}}, 25.0);
    ASSERT_EQ(wide.size(), 1u);
    EXPECT_NEAR(area(wide[0]), 96211.275, 96211.275 * 5e-5);
    EXPECT_NEAR(perimeter(wide[0].outer), 1099.557, 0.05);
}

TEST(OffsetRegion, WidensASquareBySteinersFormula) {
    const auto wide = offset_region({square(300.0), {}}, 25.0);
    ASSERT_EQ(wide.size(), 1u);
    EXPECT_NEAR(area(wide[0]), 121963.495, 121963.495 * 1e-5);
    EXPECT_NEAR(perimeter(wide[0].outer), 1357.080, 0.03);
}

TEST(OffsetRegion, RoundsCornersToAHundredthOfAMillimetre) {
    // Every point of the offset of a corner lies on the circle of 25 mm about it; between its
    // points the chord may fall short of the circle by the rounding accuracy alone.
    const auto wide = offset_region({square(300.0), {}}, 25.0);
    ASSERT_EQ(wide.size(), 1u);
    const Loop2& loop = wide[0].outer;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 middle = 0.5 * (loop[i] + loop[(i + 1) % loop.size()]);
        const double dx = std::max({0.0 - middle.x(), middle.x() - 300.0, 0.0});
        const double dy = std::max({0.0 - middle.y(), middle.y() - 300.0, 0.0});
        EXPECT_NEAR(std::hypot(dx, dy), 25.0, 0.01);
    }
}

TEST(OffsetRegion, ClosesHolesSmallerThanTheMargin) {
    Region2 region{square(300.0), {}};
    Loop2 hole;
    for (const Vec2& p : circle(20.0, 360)) hole.push_back(Vec2(150, 150) + Vec2(p.x(), -p.y()));
    region.holes = {hole};
    EXPECT_EQ(offset_region(region, 25.0).at(0).holes.size(), 0u);
    const auto narrower = offset_region(region, 5.0);
    ASSERT_EQ(narrower.at(0).holes.size(), 1u);
    // A hole shrinks to the disc of 15 mm, clockwise.
    EXPECT_NEAR(signed_area(narrower[0].holes[0]), -std::numbers::pi * 225.0, 0.5);
}

TEST(OffsetRegion, ShrinksANeckAway) {
    // Two 100 mm squares joined by a neck 10 mm wide fall apart when shrunk by 6 mm.
    const Loop2 dumbbell = {{0, 0},     {100, 0},   {100, 45}, {150, 45}, {150, 0},   {250, 0},
                            {250, 100}, {150, 100}, {150, 55}, {100, 55}, {100, 100}, {0, 100}};
    EXPECT_EQ(offset_region({dumbbell, {}}, -6.0).size(), 2u);
    EXPECT_EQ(offset_region({dumbbell, {}}, -60.0).size(), 0u);
}

TEST(Thinned, LeavesOutPointsOnStraightLinesAndKeepsCorners) {
    Loop2 loop;
    for (int i = 0; i < 100; ++i) loop.emplace_back(i, 0);
    for (int i = 0; i < 100; ++i) loop.emplace_back(100, i);
    for (int i = 0; i < 100; ++i) loop.emplace_back(100 - i, 100);
    for (int i = 0; i < 100; ++i) loop.emplace_back(0, 100 - i);
    const Loop2 thin = thinned(loop, 0.005);
    EXPECT_EQ(thin.size(), 4u);
    EXPECT_DOUBLE_EQ(signed_area(thin), 10000.0);
}

TEST(Thinned, StaysWithinItsToleranceOfACircle) {
    // The sagitta of every chord of a circle is R - distance of its middle from the centre.
    const Loop2 thin = thinned(circle(200.0, 20000), 0.005);
    EXPECT_LT(thin.size(), 700u);
    for (std::size_t i = 0; i < thin.size(); ++i)
        EXPECT_LT(200.0 - (0.5 * (thin[i] + thin[(i + 1) % thin.size()])).norm(), 0.0051);
}

TEST(CommonRegion, OfTwoSquaresIsTheirOverlap) {
    Loop2 moved;
    for (const Vec2& p : square(100.0)) moved.push_back(p + Vec2(60, 60));
    const auto common = common_region({{square(100.0), {}}}, {{moved, {}}});
    ASSERT_EQ(common.size(), 1u);
    EXPECT_NEAR(area(common[0]), 1600.0, 1e-6);
}

}  // namespace tearline::plane
