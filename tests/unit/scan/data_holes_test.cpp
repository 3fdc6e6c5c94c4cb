#include "core/scan/data_holes.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace tearline::scan {
namespace {

constexpr double half = 250.0;  // [mm] of the square that is scanned
const Loop2 square{{-half, -half}, {half, -half}, {half, half}, {-half, half}};

/// Points by chance, one in `apart` squared on average, but none in a disc.
std::vector<FieldPoint> scattered(unsigned start, double apart, const Vec2& at, double radius) {
    std::mt19937 random(start);
    std::uniform_real_distribution<double> place(-half, half);
    std::vector<FieldPoint> points;
    const int count = static_cast<int>(4.0 * half * half / (apart * apart));
    for (int i = 0; i < count; ++i) {
        const double u = place(random);
        const Vec2 uv(u, place(random));
        if ((uv - at).norm() > radius) points.push_back({uv, 0.0, 1.0});
    }
    return points;
}

/// The same on a grid.
std::vector<FieldPoint> in_rows(double apart, const Vec2& at, double radius) {
    std::vector<FieldPoint> points;
    for (double u = -half; u <= half; u += apart)
        for (double v = -half; v <= half; v += apart)
            if ((Vec2(u, v) - at).norm() > radius) points.push_back({Vec2(u, v), 0.0, 1.0});
    return points;
}

TEST(DataHoles, ChanceAloneMakesNone) {
    // Poisson's law: some 4000 places, each empty by e^-16.
    for (unsigned start = 1; start <= 12; ++start)
        for (const double apart : {4.0, 8.0})
            EXPECT_TRUE(data_holes(scattered(start, apart, {0, 0}, 0.0), {}, square).empty())
                << start << ' ' << apart;
    EXPECT_TRUE(data_holes(in_rows(5.0, {0, 0}, 0.0), {}, square).empty());
}

TEST(DataHoles, ASmallOneIsToldByHowCloseThePointsLie) {
    // 16 mm across a scan of 4 mm, 50 and more points missing: by count, place and size.
    const Vec2 at(60, -90);
    for (const double radius : {16.0, 40.0})
        for (unsigned start = 1; start <= 6; ++start) {
            const auto holes = data_holes(scattered(start, 4.0, at, radius), {}, square);
            ASSERT_EQ(holes.size(), 1U) << start;
            EXPECT_LT((holes[0].middle - at).norm(), 4.0);
            EXPECT_NEAR(std::sqrt(holes[0].area_mm2), std::sqrt(3.1416) * radius, 8.0);
        }
    ASSERT_EQ(data_holes(in_rows(3.0, at, 10.0), {}, square).size(), 1U);
    // The same hole where points lie 12 mm apart is no more than chance makes.
    EXPECT_TRUE(data_holes(scattered(1, 12.0, at, 10.0), {}, square).empty());
}

TEST(DataHoles, WhatIsBridgedIsNone) {
    const Region2 bridged{{{-50, -50}, {50, -50}, {50, 50}, {-50, 50}}, {}};
    EXPECT_TRUE(data_holes(scattered(3, 4.0, {0, 0}, 45.0), bridged, square).empty());
}

}  // namespace
}  // namespace tearline::scan
