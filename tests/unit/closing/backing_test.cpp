#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/closing/backing_kind.h"
#include "core/closing/dish_volume.h"
#include "core/closing/passes_hole.h"

namespace tearline::closing {
namespace {

using job::BackingKind;

TEST(PassesHole, OvalOfTheWorkedFigureNeedsItsLength) {
    // Hole 100 wide, lap 25, thickness and rise 7: at least 150.4 mm.
    EXPECT_NEAR(least_length(100.0, 25.0, 7.0), 150.4, 0.05);
    EXPECT_TRUE(passes_hole(150.5, 100.0, 25.0, 7.0));
    EXPECT_FALSE(passes_hole(150.3, 100.0, 25.0, 7.0));
}

TEST(PassesHole, NothingThickerThanTheHoleGoesThrough) {
    EXPECT_TRUE(std::isinf(least_length(100.0, 25.0, 100.0)));
    EXPECT_FALSE(passes_hole(1000.0, 100.0, 25.0, 120.0));
}

TEST(PassesHole, RollJustFits) {
    EXPECT_DOUBLE_EQ(roll_radius(140.0, 100.0, 3.0), 47.0);
}

TEST(BackingKind, GoesByTheStrainOfTheSheet) {
    EXPECT_EQ(backing_kind(BackingKind::choose, 0.003), BackingKind::sheet);
    EXPECT_EQ(backing_kind(BackingKind::choose, 0.0031), BackingKind::petals);
    EXPECT_EQ(backing_kind(BackingKind::choose, 0.0201), BackingKind::stations);
    EXPECT_EQ(backing_kind(BackingKind::sheet, 0.5), BackingKind::sheet);
}

TEST(BackingKind, SphereStrainsAreTheWorkedFigures) {
    // r 150: 0.5 % at R 750, 4.5 % at R 250; r 150 + lap 40 at R 750: 0.80 %.
    EXPECT_NEAR(sphere_strain(150.0, 750.0), 0.005, 1e-12);
    EXPECT_NEAR(sphere_strain(150.0, 250.0), 0.045, 1e-12);
    EXPECT_NEAR(sphere_strain(190.0, 750.0), 0.0080, 5e-5);
}

TEST(BackingKind, IsPreformedWhereSixInchesRiseAnEighth) {
    // FAA AC 43.13-1B p. 1-31; a chord c of rise h has the radius (c^2 / 4 + h^2) / 2 h.
    const double half = 3.0 * 25.4, rise = 25.4 / 8.0;
    EXPECT_NEAR(preformed_below, (half * half + rise * rise) / (2.0 * rise), 0.05);
}

TEST(Plywood, BendsAsTheTableSays) {
    // FAA AC 43.13-1B table 1-2.
    EXPECT_DOUBLE_EQ(plywood_radius(1.8).value(), 132.0);
    EXPECT_DOUBLE_EQ(plywood_radius(3.2).value(), 305.0);
    EXPECT_DOUBLE_EQ(plywood_radius(4.8).value(), 533.0);
    EXPECT_DOUBLE_EQ(plywood_radius(4.0).value(), 419.0);  // half way by proportion
    EXPECT_FALSE(plywood_radius(6.0));
}

TEST(DishVolume, OfADiscIsTheFrustum) {
    // pi h / 3 (R^2 + R r + r^2): 8 mm, hole 100, 12:1: one side 569 810, two of 4 mm 391 267 mm3.
    const double pi = std::numbers::pi;
    const auto disc = [&](double depth) {
        const double out = 100.0 + 12.0 * depth;
        return dish_volume(depth, 12.0 * depth, pi * 1e4, 200.0 * pi, pi * out * out);
    };
    EXPECT_NEAR(disc(8.0), 569810.0, 1.0);
    EXPECT_NEAR(2.0 * disc(4.0), 391267.0, 1.0);
}

TEST(DishVolume, OfASquareHasRoundCorners) {
    // Prism, four wedges, a cone: a^2 d + 4 a w d / 2 + pi w^2 d / 3; a 100, d 4, w 48.
    const double ground = 1e4 + 400.0 * 48.0 + std::numbers::pi * 48.0 * 48.0;
    EXPECT_NEAR(dish_volume(4.0, 48.0, 1e4, 400.0, ground),
                1e4 * 4.0 + 400.0 * 48.0 * 2.0 + std::numbers::pi * 48.0 * 48.0 * 4.0 / 3.0, 1e-6);
}

}  // namespace
}  // namespace tearline::closing
