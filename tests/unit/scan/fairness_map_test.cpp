#include "core/scan/fairness_map.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace tearline::scan {
namespace {

/// 21 x 21 cells of 10 mm, one of them about (105, 105).
FieldGrid grid() {
    FieldGrid grid;
    grid.cell = 10.0;
    grid.columns = grid.rows = 21;
    return grid;
}

const Noise noise{.spread = 0.1, .correlation = 4.0};

/// As many points in the middle cell, all so far off.
std::vector<Residual> spot(double off, int count = 9) {
    std::vector<Residual> all;
    for (int i = 0; i < count; ++i) all.push_back({{101.0 + i, 105.0}, off});
    return all;
}

const auto nothing_bridged = [](const Vec2&) { return false; };

TEST(FairnessMap, FallsWhereASpotStandsOverThreeSpreadsOfItsMean) {
    // By hand: the noise has a density of 2 pi s^2 L^2; over one cell of 100 mm2 the median of a
    // spot spreads by 1.2533 times the root of its hundredth: 0.1257, three times that 0.377.
    const double bar = 3.0 * 1.2533 * std::sqrt(2.0 * std::numbers::pi * 0.01 * 16.0 / 100.0);
    FairnessMap map(grid(), 60.0, 10.0);
    EXPECT_FALSE(map.shorten(spot(0.99 * bar), noise, nothing_bridged));
    EXPECT_FALSE(map.shorten(spot(-0.99 * bar), noise, nothing_bridged));
    EXPECT_EQ(map.shortest(), 60.0);
    EXPECT_TRUE(map.shorten(spot(-1.01 * bar), noise, nothing_bridged));
    EXPECT_NEAR(map.shortest(), 40.0, 1e-12) << "a step down is two thirds";
}

TEST(FairnessMap, GrowsFromABendByHalfTheWay) {
    // By hand: windows of 60 / 6 mm to each side see the spot, nine cells of them; from there the
    // length grows by 5 mm a cell, 7.071 over corners, up to what it was.
    FairnessMap map(grid(), 60.0, 10.0);
    ASSERT_TRUE(map.shorten(spot(2.0), noise, nothing_bridged));
    for (int k = 0; k <= 9; ++k) {
        const double expected = std::min(60.0, 40.0 + 5.0 * std::max(0, k - 1));
        for (const Vec2& way : {Vec2(1, 0), Vec2(-1, 0), Vec2(0, 1), Vec2(0, -1)})
            EXPECT_NEAR(map.at(Vec2(105, 105) + 10.0 * k * way), expected, 1e-9) << k;
        const double over_corners = std::min(60.0, 40.0 + 7.071 * std::max(0, k - 1));
        EXPECT_NEAR(map.at(Vec2(105, 105) + 10.0 * k * Vec2(1, -1)), over_corners, 1e-9) << k;
    }
    EXPECT_EQ(map.lengths().size(), 441u);
    EXPECT_EQ(std::count_if(map.lengths().begin(), map.lengths().end(),
                            [](double length) { return std::abs(length - 40.0) < 1e-9; }),
              9);
}

TEST(FairnessMap, FallsStepByStepToItsLeastAndNoFarther) {
    FairnessMap map(grid(), 60.0, 30.0);
    EXPECT_TRUE(map.shorten(spot(2.0), noise, nothing_bridged));
    EXPECT_TRUE(map.shorten(spot(2.0), noise, nothing_bridged));  // 26.7, held at 30
    EXPECT_NEAR(map.at({105, 105}), 30.0, 1e-12);
    EXPECT_FALSE(map.shorten(spot(2.0), noise, nothing_bridged));
}

TEST(FairnessMap, LeavesWhatIsBridgedAsItIs) {
    // Left of x = 100 nothing is seen, and nothing hands its length on.
    FairnessMap map(grid(), 60.0, 10.0);
    const auto left = [](const Vec2& p) { return p.x() < 100.0; };
    ASSERT_TRUE(map.shorten(spot(2.0), noise, left));
    EXPECT_NEAR(map.at({105, 105}), 40.0, 1e-12);
    for (double x = 5; x < 100; x += 10) EXPECT_EQ(map.at({x, 105}), 60.0) << x;
    // Points that lie in what is bridged count for nothing.
    FairnessMap other(grid(), 60.0, 10.0);
    EXPECT_FALSE(other.shorten(spot(2.0), noise, [](const Vec2& p) { return p.x() < 110.0; }));
}

TEST(FairnessMap, TellsNothingByFewerThanEightPoints) {
    FairnessMap map(grid(), 60.0, 10.0);
    EXPECT_FALSE(map.shorten(spot(5.0, 7), noise, nothing_bridged));
    EXPECT_TRUE(map.shorten(spot(5.0, 8), noise, nothing_bridged));
}

TEST(FairnessMap, IsNotLedByAFewFarOff) {
    // The median of nine, four of them a hand's breadth off.
    std::vector<Residual> residuals = spot(0.0);
    for (std::size_t i = 0; i < 4; ++i) residuals[i].off = 100.0;
    FairnessMap map(grid(), 60.0, 10.0);
    EXPECT_FALSE(map.shorten(residuals, noise, nothing_bridged));
    residuals[4].off = 100.0;
    EXPECT_TRUE(map.shorten(residuals, noise, nothing_bridged));
}

TEST(FairnessMap, DoesNotSeePointsBesideTheGrid) {
    FairnessMap map(grid(), 60.0, 10.0);
    std::vector<Residual> beside = spot(5.0);
    for (Residual& one : beside) one.uv.x() -= 150.0;
    EXPECT_FALSE(map.shorten(beside, noise, nothing_bridged));
}

TEST(FairnessMap, OnFinerCellsHasTheSameLengths) {
    FairnessMap map(grid(), 60.0, 10.0);
    ASSERT_TRUE(map.shorten(spot(2.0), noise, nothing_bridged));
    FieldGrid fine = grid();
    fine.cell = 5.0;
    fine.columns = fine.rows = 42;
    const FairnessMap on = map.on(fine);
    EXPECT_EQ(on.lengths().size(), 42u * 42u);
    EXPECT_EQ(on.shortest(), map.shortest());
    for (const Vec2& p : {Vec2(3, 8), Vec2(104, 101), Vec2(107, 109), Vec2(128, 92), Vec2(207, 3)})
        EXPECT_EQ(on.at(p), map.at(p));
}

}  // namespace
}  // namespace tearline::scan
