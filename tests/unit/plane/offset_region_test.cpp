#include "core/plane/offset_region.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/loops.h"

namespace tearline::plane {

namespace {

Loop2 square(double side) {
    return {{0, 0}, {side, 0}, {side, side}, {0, side}};
}

}  // namespace

// Expected: Steiner's formula A + P m + pi m^2 for convex outlines (SOURCES.md section 6, derived).
TEST(OffsetRegion, WidensADiscBySteinersFormula) {
    const auto wide = offset_region({test::circle(150.0, {0, 0}, 7200), {}}, 25.0);
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
    for (const Vec2& p : test::circle(20.0)) hole.push_back(Vec2(150, 150) + Vec2(p.x(), -p.y()));
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

TEST(CommonRegion, OfTwoSquaresIsTheirOverlap) {
    Loop2 moved;
    for (const Vec2& p : square(100.0)) moved.push_back(p + Vec2(60, 60));
    const auto common = common_region({{square(100.0), {}}}, {{moved, {}}});
    ASSERT_EQ(common.size(), 1u);
    EXPECT_NEAR(area(common[0]), 1600.0, 1e-6);
}

TEST(CommonRegion, TurnsWithItsPartsAndIsNoneApart) {
    // Properties: the common part of A and B is that of B and A, and what lies in one and not in
    // the other makes up the union: |A or B| = |A| + |B| - |A and B|.
    Region2 ring{test::circle(80.0, {0, 0}, 200), {test::circle(30.0, {0, 0}, 100)}};
    std::reverse(ring.holes[0].begin(), ring.holes[0].end());
    const auto sum = [](const std::vector<Region2>& regions) {
        double total = 0.0;
        for (const Region2& r : regions) total += area(r);
        return total;
    };
    for (const double shift : {0.0, 20.0, 60.0, 140.0, 200.0}) {
        Region2 box{square(90.0), {}};
        for (Vec2& p : box.outer) p += Vec2(shift, -45.0);
        const double both = sum(common_region({ring}, {box}));
        EXPECT_NEAR(both, sum(common_region({box}, {ring})), 1e-6);
        EXPECT_NEAR(sum(united_regions({ring, box})), area(ring) + area(box) - both, 0.3) << shift;
        EXPECT_EQ(both > 0.0, shift < 80.0);
    }
}

TEST(UnitedRegions, FillTheHoleThatAnotherCovers) {
    Region2 ring{square(100.0), {{{40, 40}, {40, 60}, {60, 60}, {60, 40}}}};
    const auto filled = united_regions({ring, {{{30, 30}, {70, 30}, {70, 70}, {30, 70}}, {}}});
    ASSERT_EQ(filled.size(), 1u);
    EXPECT_TRUE(filled[0].holes.empty());
    EXPECT_NEAR(area(filled[0]), 10000.0, 1e-6);
    // Apart they stay two, touching along a side they become one.
    Region2 beside{square(100.0), {}};
    for (Vec2& p : beside.outer) p += Vec2(150, 0);
    EXPECT_EQ(united_regions({ring, beside}).size(), 2u);
    for (Vec2& p : beside.outer) p -= Vec2(50, 0);
    EXPECT_EQ(united_regions({ring, beside}).size(), 1u);
}

TEST(OffsetRegion, KeepsItsDistanceFromAnyOutline) {
    // Property, by distances point by point: every point of the widened outline lies at the margin
    // from the region, no nearer by more than the rounding; widening in two steps is widening once.
    std::mt19937 random(515);  // fixed start value
    std::uniform_real_distribution<double> shake(0.6, 1.4);
    for (int k = 0; k < 6; ++k) {
        Loop2 blob = test::circle(70.0, {0, 0}, 16);
        for (Vec2& p : blob) p *= shake(random);
        const auto wide = offset_region({blob, {}}, 18.0);
        ASSERT_EQ(wide.size(), 1u);
        for (const Vec2& p : wide[0].outer) {
            EXPECT_NEAR(test::distance_to(blob, p), 18.0, 0.011);
            EXPECT_FALSE(contains(blob, p));
        }
        const auto half = offset_region({blob, {}}, 9.0);
        ASSERT_EQ(half.size(), 1u);
        const auto again = offset_region(half[0], 9.0);
        ASSERT_EQ(again.size(), 1u);
        EXPECT_NEAR(area(again[0]), area(wide[0]), 0.02 * perimeter(wide[0].outer));
    }
}

TEST(OffsetRegion, ShrinksADiscToItsRadiusLessTheMargin) {
    const auto narrow = offset_region({test::circle(150.0, {0, 0}, 720), {}}, -40.0);
    ASSERT_EQ(narrow.size(), 1u);
    EXPECT_NEAR(area(narrow[0]), std::numbers::pi * 110.0 * 110.0, 110.0 * 0.05);
    // A square keeps its corners sharp: 300 less 2 x 40.
    const auto inner = offset_region({square(300.0), {}}, -40.0);
    ASSERT_EQ(inner.size(), 1u);
    EXPECT_NEAR(area(inner[0]), 220.0 * 220.0, 1e-6);
}

}  // namespace tearline::plane
