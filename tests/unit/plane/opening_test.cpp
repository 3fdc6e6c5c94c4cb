#include "core/plane/opening.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/plane/boolean.h"

namespace tearline::plane::opening_test {
namespace {

using std::numbers::pi;
constexpr double chord = 0.002;
const Loop2 square{{0, 0}, {100, 0}, {100, 100}, {0, 100}};

// Closed form: where a disc of radius r rolls inside a right corner it leaves r^2 (1 - pi/4).
TEST(Opened, RoundsTheCornersByTheDisc) {
    const auto loops = opened({square}, 20.0, chord);
    ASSERT_EQ(loops.size(), 1u);
    EXPECT_NEAR(signed_area(loops[0]), 10000.0 - 4.0 * 100.0 * (1.0 - pi / 4.0), 0.1);
}

TEST(Closed, FillsASlitNarrowerThanTheDiscAndNoWiderOne) {
    const Loop2 slit{{0, 0},   {100, 0},  {100, 45},  {40, 45},
                     {40, 55}, {100, 55}, {100, 100}, {0, 100}};
    const auto filled = closed({slit}, 12.0, chord);
    ASSERT_EQ(filled.size(), 1u);
    // A dimple stays between the two corners: less than a half disc as wide as the slit.
    EXPECT_GT(signed_area(filled[0]), 10000.0 - 0.5 * pi * 25.0);
    const auto open = closed({slit}, 8.0, chord);
    ASSERT_EQ(open.size(), 1u);
    // Two hollow corners at its end are rounded.
    EXPECT_NEAR(signed_area(open[0]), 9400.0 + 2.0 * 16.0 * (1.0 - pi / 4.0), 0.1);
}

TEST(HoldsDisc, UpToTheWidthOfTheRegion) {
    EXPECT_TRUE(holds_disc({square, {}}, 99.9, chord));
    EXPECT_FALSE(holds_disc({square, {}}, 100.1, chord));
    const Loop2 hole{{45, 45}, {45, 55}, {55, 55}, {55, 45}};
    EXPECT_FALSE(holds_disc({square, {hole}}, 70.0, chord));
}

// By hand: two squares of 100 that share a quarter.
TEST(Boolean, OfTwoSquaresHasTheAreasOfItsParts) {
    Loop2 other;
    for (const Vec2& p : square) other.push_back(p + Vec2(50, 50));
    const auto area_of = [&](Boolean operation) {
        double sum = 0.0;
        for (const Loop2& loop : combined(operation, {square}, {other})) sum += signed_area(loop);
        return sum;
    };
    EXPECT_NEAR(area_of(Boolean::unite), 17500.0, 1e-3);
    EXPECT_NEAR(area_of(Boolean::intersect), 2500.0, 1e-3);
    EXPECT_NEAR(area_of(Boolean::subtract), 7500.0, 1e-3);
}

TEST(Boolean, GivesAHoleToItsRegion) {
    const Loop2 hole{{40, 40}, {60, 40}, {60, 60}, {40, 60}};
    const auto ring = combined_regions(Boolean::subtract, {square}, {hole});
    ASSERT_EQ(ring.size(), 1u);
    ASSERT_EQ(ring[0].holes.size(), 1u);
    EXPECT_GT(signed_area(ring[0].outer), 0.0);
    EXPECT_NEAR(signed_area(ring[0].holes[0]), -400.0, 1e-3);
    EXPECT_EQ(loops_of(ring).size(), 2u);
}

}  // namespace
}  // namespace tearline::plane::opening_test
