#include "core/plies/false_holes.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"
#include "tests/support/loops.h"

namespace tearline::plies {
namespace {

TEST(FalseHoles, CoversAHoleThatLiesWithinTheOffset) {
    // Closed form on the plane: round a disc of radius 40 the hole's farthest point lies 30 + 6 mm
    // outside it.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(240), 240, 8);
    const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 40), 60);
    const std::array<double, 1> offsets{120.0};
    const auto sweep = dish::sweep_offsets(patch, outline, offsets);
    FalseHoles missed(patch, sweep);
    EXPECT_TRUE(missed.covers(test::round_hole(6, {70, 0}, 24), 36.0));
    EXPECT_TRUE(missed.covers(test::round_hole(6, {0, -70}, 24), 120.0));
    EXPECT_FALSE(missed.covers(test::round_hole(6, {70, 0}, 24), 30.0));
    EXPECT_FALSE(missed.covers(test::round_hole(20, {70, 0}, 24), 40.0));
}

TEST(FalseHoles, KeepsTheOpeningsOfTheHull) {
    const auto inside = [](const Vec2& p) {
        return p.norm() <= 240 && (p - Vec2(90, 0)).norm() >= 25;
    };
    const auto patch = test::analytic_patch(test::plane_map, inside, 240, 6, false, true);
    const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 40), 60);
    const std::array<double, 1> offsets{120.0};
    const auto sweep = dish::sweep_offsets(patch, outline, offsets);
    FalseHoles missed(patch, sweep);
    EXPECT_FALSE(missed.covers(test::round_hole(25, {90, 0}, 24), 120.0));
    EXPECT_TRUE(missed.covers(test::round_hole(25, {-90, 0}, 24), 120.0));
}

}  // namespace
}  // namespace tearline::plies
