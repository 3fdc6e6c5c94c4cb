#include "core/plane/grid_contours.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

namespace tearline::plane {
namespace {

GridField sampled(const std::function<double(const Vec2&)>& height) {
    GridField field;
    field.low = Vec2(-101, -101);
    field.step = 1.0;
    field.columns = field.rows = 203;
    field.value.resize(203 * 203);
    for (int r = 0; r < field.rows; ++r)
        for (int c = 0; c < field.columns; ++c) field.at(c, r) = height(field.place(c, r));
    return field;
}

// Closed form: the levels of a cone are circles, pi r^2.
TEST(Contours, OfAConeAreCircles) {
    const GridField cone = sampled([](const Vec2& p) { return 100.0 - p.norm(); });
    const auto loops = contours(cone, 40.0);
    ASSERT_EQ(loops.size(), 1u);
    EXPECT_NEAR(signed_area(loops[0]), std::numbers::pi * 3600.0, 4.0) << "counter-clockwise";
    for (const Vec2& p : loops[0]) EXPECT_NEAR(p.norm(), 60.0, 0.003);
}

TEST(Contours, GoClockwiseRoundLowGround) {
    // A crater rim: high between the circles of 30 and 70.
    const GridField rim = sampled([](const Vec2& p) { return 20.0 - std::abs(p.norm() - 50.0); });
    const auto regions = regions_of(contours(rim, 0.0));
    ASSERT_EQ(regions.size(), 1u);
    ASSERT_EQ(regions[0].holes.size(), 1u);
    EXPECT_NEAR(area(regions[0]), std::numbers::pi * (4900.0 - 900.0), 10.0);
    EXPECT_LT(signed_area(regions[0].holes[0]), 0.0);
}

TEST(Contours, KeepHighCornersOfASaddleApart) {
    const GridField saddle =
        sampled([](const Vec2& p) { return p.norm() < 90.0 ? p.x() * p.y() : -1.0; });
    EXPECT_EQ(contours(saddle, 0.5).size(), 2u);
}

TEST(RegionsOf, GivesAnOpeningToTheSmallestRegionRoundIt) {
    const auto square = [](double half, bool clockwise) {
        Loop2 loop{{-half, -half}, {half, -half}, {half, half}, {-half, half}};
        if (clockwise) std::reverse(loop.begin(), loop.end());
        return loop;
    };
    // An island in a lake of an island, with a pond.
    const auto regions =
        regions_of({square(10, true), square(40, false), square(20, false), square(30, true)});
    ASSERT_EQ(regions.size(), 2u);
    EXPECT_DOUBLE_EQ(area(regions[0]), 6400.0 - 3600.0);
    EXPECT_DOUBLE_EQ(area(regions[1]), 1600.0 - 400.0);
}

}  // namespace
}  // namespace tearline::plane
