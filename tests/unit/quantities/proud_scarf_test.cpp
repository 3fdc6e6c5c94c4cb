#include "core/quantities/proud_scarf.h"

#include <gtest/gtest.h>

#include <numbers>
#include <vector>

namespace tearline::quantities {
namespace {

TEST(ProudScarf, StepsWithoutBandsAreASawToothOfOnePly) {
    // By hand: 1 mm plies at 12:1 stand 0 to 1 mm proud, 0.5 on average.
    std::vector<ScarfStep> steps;
    for (int i = 1; i <= 8; ++i) steps.push_back({12.0 * i, 1.0, 0.0});
    const std::vector<Vec2> dish{{0.0, 8.0}, {96.0, 0.0}};
    const ProudScarf proud = proud_scarf(steps, dish);
    EXPECT_NEAR(proud.mean_mm, 0.5, 1e-12);
    EXPECT_NEAR(proud.max_mm, 1.0, 1e-12);
}

TEST(ProudScarf, OnePlyWithABandIsATrapezium) {
    // By hand: 1 mm to 12 mm out in a dish 1 mm deep; the band lies beyond the scarf.
    const std::vector<Vec2> dish{{0.0, 1.0}, {12.0, 0.0}};
    const ProudScarf proud = proud_scarf(std::vector<ScarfStep>{{12.0, 1.0, 20.0}}, dish);
    EXPECT_NEAR(proud.mean_mm, 0.5, 1e-12);
    EXPECT_NEAR(proud.max_mm, 1.0, 1e-12);
}

TEST(ProudScarf, TwoPliesWithBandsByHand) {
    // By hand: edges 12 and 24, band 24, dish 2 mm over 24 mm. The first band adds 1 - s/24 over
    // s = 0 ... 12: 12 - 3 = 9 mm2 in 24 mm = 0.375; just inside the second edge 1 + 0.5.
    const std::vector<Vec2> dish{{0.0, 2.0}, {24.0, 0.0}};
    const std::vector<ScarfStep> steps{{12.0, 1.0, 24.0}, {24.0, 1.0, 24.0}};
    const ProudScarf proud = proud_scarf(steps, dish);
    EXPECT_NEAR(proud.mean_mm, 0.5 + 0.375, 1e-12);
    EXPECT_NEAR(proud.max_mm, 1.5, 1e-12);
}

TEST(ProudScarf, MatchesADenseSumOverABentDish) {
    // Second route: the mean by the midpoint rule on 200 000 points.
    const std::vector<Vec2> dish{{0.0, 3.0}, {25.0, 2.0}, {50.0, 1.0}, {75.0, 0.0}};
    const std::vector<ScarfStep> steps{{25.0, 1.0, 20.0}, {50.0, 1.0, 30.0}, {75.0, 1.0, 20.0}};
    double sum = 0.0;
    constexpr int points = 200000;
    for (int i = 0; i < points; ++i) {
        const double x = 75.0 * (i + 0.5) / points;
        double glass = 0.0;
        for (const ScarfStep& step : steps)
            if (x < step.edge)
                glass += step.thickness;
            else if (x < step.edge + step.band)
                glass += step.thickness * (1.0 - (x - step.edge) / step.band);
        sum += glass - (3.0 - x / 25.0);
    }
    EXPECT_NEAR(proud_scarf(steps, dish).mean_mm, sum / points, 1e-5);
}

TEST(ProudScarf, ShortStackEndsLow) {
    // By hand: one 1 mm ply to 12 mm in a 2 mm dish: -2 + 24 ... mean (12 x 1 - 24) / 24 = -0.5.
    const std::vector<Vec2> dish{{0.0, 2.0}, {24.0, 0.0}};
    EXPECT_NEAR(proud_scarf(std::vector<ScarfStep>{{12.0, 1.0, 0.0}}, dish).mean_mm, -0.5, 1e-12);
}

TEST(LowVolume, EmptyDishIsTheFrustumOfTheTrade) {
    // SOURCES.md section 1 (derived): a hole of 100 mm radius 8 mm deep at 12:1, 569 809.5 mm3.
    const std::vector<Vec2> dish{{0.0, 8.0}, {96.0, 0.0}};
    const double pi = std::numbers::pi;
    EXPECT_NEAR(low_volume({}, dish, pi * 1e4, 200.0 * pi, 0.0).value(), 569.8095, 5e-5);
}

TEST(LowVolume, WhatStandsProudIsNeverFilled) {
    // By hand: a ply of 1 mm to 12 mm in a 1 mm dish covers floor and scarf; a topcoat of 0.5 mm
    // leaves less to fill, not more.
    const std::vector<Vec2> dish{{0.0, 1.0}, {12.0, 0.0}};
    const std::vector<ScarfStep> ply{{12.0, 1.0, 0.0}};
    EXPECT_NEAR(low_volume(ply, dish, 1000.0, 100.0, 0.0).value(), 0.0, 1e-12);
    EXPECT_NEAR(low_volume(ply, dish, 1000.0, 100.0, 0.5).value(), 0.0, 1e-12);
}

TEST(LowVolume, BareScarfBeyondAShortPlyIsFilled) {
    // By hand: a 1 mm ply to 12 mm in a 2 mm dish to 24 mm, perimeter p, floor A: the floor is 1 mm
    // low; from 0 to 12 mm it falls from 1 to 0; from 12 to 24 mm from 1 to 0 again. With the
    // widening 2 pi x: 6 p + 2 pi 24, and 6 p + 2 pi (12 x 6 + 24).
    const std::vector<Vec2> dish{{0.0, 2.0}, {24.0, 0.0}};
    const double pi = std::numbers::pi;
    const std::vector<ScarfStep> ply{{12.0, 1.0, 0.0}};
    EXPECT_NEAR(low_volume(ply, dish, 1000.0, 100.0, 0.0).value(),
                1.0 + 0.6 + 0.048 * pi + 0.6 + 0.192 * pi, 1e-9);
}

}  // namespace
}  // namespace tearline::quantities
