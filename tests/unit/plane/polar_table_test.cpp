#include "core/plane/polar_table.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/support/loops.h"

namespace tearline::plane {
namespace {

TEST(PolarTable, GivesTheRadiusOfADiscInEveryDirection) {
    // Closed form; a polygon of 360 points is within R (1 - cos 0.5 deg) = 0.006 mm of the circle.
    const auto rows = polar_table({test::circle(150.0), {}}, {0, 0});
    ASSERT_EQ(rows.size(), 24u);
    for (const PolarRow& row : rows) {
        ASSERT_EQ(row.radii_mm.size(), 1u) << row.angle_degrees;
        EXPECT_NEAR(row.radii_mm[0], 150.0, 0.006);
    }
}

TEST(PolarTable, GivesSidesAndCornersOfASquare) {
    // Closed form, square of 200 mm about the pole: 100 at 0, 100 sqrt 2 at 45, 100 / cos 15 at 15.
    const auto rows =
        polar_table({{{-100, -100}, {100, -100}, {100, 100}, {-100, 100}}, {}}, {0, 0});
    ASSERT_EQ(rows.size(), 28u);
    EXPECT_NEAR(rows[0].radii_mm.at(0), 100.0, 1e-9);
    EXPECT_NEAR(rows[1].radii_mm.at(0), 100.0 / std::cos(15.0 * std::numbers::pi / 180.0), 1e-9);
    int corners = 0;
    for (const PolarRow& row : rows)
        if (row.corner) {
            ++corners;
            EXPECT_NEAR(row.radii_mm.at(0), 100.0 * std::numbers::sqrt2, 1e-9);
            EXPECT_NEAR(std::fmod(row.angle_degrees, 90.0), 45.0, 1e-9);
        }
    EXPECT_EQ(corners, 4);
}

TEST(PolarTable, GivesEveryCrossingOfARingNearestFirst) {
    Loop2 hole = test::circle(40.0);
    std::reverse(hole.begin(), hole.end());
    for (const PolarRow& row : polar_table({test::circle(100.0), {hole}}, {0, 0})) {
        ASSERT_EQ(row.radii_mm.size(), 2u);
        EXPECT_NEAR(row.radii_mm[0], 40.0, 0.002);
        EXPECT_NEAR(row.radii_mm[1], 100.0, 0.004);
    }
}

TEST(PolarTable, RunsCounterClockwise) {
    // By hand: a disc of 50 about (0, 200) is met at 90 degrees, 150 and 250 away, never at 270.
    const auto rows = polar_table({test::circle(50.0, {0.0, 200.0}), {}}, {0, 0});
    ASSERT_EQ(rows[6].radii_mm.size(), 2u);
    EXPECT_DOUBLE_EQ(rows[6].angle_degrees, 90.0);
    EXPECT_NEAR(rows[6].radii_mm[0], 150.0, 0.01);
    EXPECT_NEAR(rows[6].radii_mm[1], 250.0, 0.01);
    EXPECT_EQ(rows[18].radii_mm.size(), 0u);
    // And its corners: a square beside the pole has one at atan2(300, 100) = 71.57 degrees.
    const auto square = polar_table({{{0, 200}, {100, 200}, {100, 300}, {0, 300}}, {}}, {0, 0});
    EXPECT_TRUE(std::any_of(square.begin(), square.end(), [](const PolarRow& row) {
        return row.corner && std::abs(row.angle_degrees - 71.565) < 0.001;
    }));
}

TEST(PolarTable, HasNoRadiusWhereAPieceLiesElsewhere) {
    const auto rows = polar_table({test::circle(50.0, {200.0, 0.0}), {}}, {0, 0});
    EXPECT_EQ(rows[0].radii_mm.size(), 2u);   // 150 and 250
    EXPECT_EQ(rows[12].radii_mm.size(), 0u);  // the other way
}

}  // namespace
}  // namespace tearline::plane
