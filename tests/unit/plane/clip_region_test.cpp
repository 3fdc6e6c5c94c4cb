#include "core/plane/clip_region.h"

#include <gtest/gtest.h>

#include "tests/support/loops.h"

namespace tearline::plane {
namespace {

const Region2 wide{{{-1000, -1000}, {1000, -1000}, {1000, 1000}, {-1000, 1000}}, {}};

TEST(UnitedInside, LeavesOutWhatIsWoundRoundBackwards) {
    // A figure of eight: its clockwise half is no part of the region.
    const Loop2 bow{{0, 0}, {60, 0}, {-60, 60}, {0, 60}};
    const auto regions = united_inside({bow}, wide);
    ASSERT_EQ(regions.size(), 1u);
    // The lower triangle (0,0) (60,0) and the crossing (0,60)-(0,0) with (60,0)-(-60,60) at (0,30).
    EXPECT_NEAR(area(regions[0]), 0.5 * 60 * 30, 1e-3);
}

TEST(UnitedInside, UnitesOverlapsAndKeepsHoles) {
    const Loop2 a = test::circle(50, {0, 0}, 400), b = test::circle(50, {60, 0}, 400);
    const auto two = united_inside({a, b}, wide);
    ASSERT_EQ(two.size(), 1u);
    // Two circles less their lens: r^2 (2 acos(d/2r) - sin(2 acos(d/2r))).
    const double half = std::acos(60.0 / 100.0);
    const double lens = 2500 * (2 * half - std::sin(2 * half));
    EXPECT_NEAR(area(two[0]), 2 * std::numbers::pi * 2500 - lens, 2.0);

    const auto ring = united_inside({a, test::round_hole(20, {0, 0}, 200)}, wide);
    ASSERT_EQ(ring.size(), 1u);
    ASSERT_EQ(ring[0].holes.size(), 1u);
    EXPECT_LT(signed_area(ring[0].holes[0]), 0.0);
}

TEST(UnitedInside, IsCutByTheDomainAndItsHoles) {
    const Region2 domain{{{-100, -100}, {0, -100}, {0, 100}, {-100, 100}},
                         {{{-40, -5}, {-40, 5}, {-30, 5}, {-30, -5}}}};
    const auto half = united_inside({test::circle(50, {0, 0}, 2000)}, domain);
    ASSERT_EQ(half.size(), 1u);
    EXPECT_EQ(half[0].holes.size(), 1u);
    EXPECT_NEAR(area(half[0]), 0.5 * std::numbers::pi * 2500 - 100, 0.1);
}

TEST(UnitedInside, KeepsATenthOfAMicron) {
    // Far from the origin, as hull coordinates in mm may be.
    const Vec2 far(123456.789, -98765.4321);
    const Loop2 square{far, far + Vec2(30, 0), far + Vec2(30, 30), far + Vec2(0, 30)};
    Region2 domain{square, {}};
    for (Vec2& p : domain.outer) p = far + 3.0 * (p - far) - Vec2(10, 10);
    const auto regions = united_inside({square}, domain);
    ASSERT_EQ(regions.size(), 1u);
    for (const Vec2& p : square) {
        double best = 1e300;
        for (const Vec2& q : regions[0].outer) best = std::min(best, (p - q).norm());
        EXPECT_LT(best, 1e-4);
    }
}

TEST(UnitedInside, DropsSliversThatNoKnifeCanCut) {
    EXPECT_TRUE(united_inside({{{0, 0}, {100, 0}, {100, 0.005}}}, wide).empty());
}

TEST(UnitedInside, TakesOutSpikesWithoutWidth) {
    // A square with a spike 3 mm long and a micron wide on one side.
    const auto regions = united_inside(
        {{{0, 0}, {20, 0}, {20.0, 10}, {23, 10.0005}, {20, 10.001}, {20, 20}, {0, 20}}}, wide);
    ASSERT_EQ(regions.size(), 1u);
    for (const Vec2& p : regions[0].outer) EXPECT_LT(p.x(), 20.01);
    EXPECT_NEAR(area(regions[0]), 400.0, 0.01);
}

}  // namespace
}  // namespace tearline::plane
