#include "core/dish/thin_plate.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace tearline::dish {
namespace {

std::vector<PlatePoint> on_ring(double radius, int count, double height, bool at_least) {
    std::vector<PlatePoint> points;
    for (int i = 0; i < count; ++i) {
        const double a = 2.0 * std::numbers::pi * i / count;
        points.push_back({radius * Vec2(std::cos(a), std::sin(a)), height, at_least});
    }
    return points;
}

TEST(ThinPlate, APlaneStaysAPlane) {
    // Closed form: a plane bends nowhere, so it bends least.
    const auto plane = [](const Vec2& p) { return 3.0 + 0.02 * p.x() - 0.01 * p.y(); };
    std::vector<PlatePoint> points = on_ring(100.0, 7, 0.0, false);
    for (PlatePoint& point : points) point.height = plane(point.at);
    const ThinPlate plate(points);
    for (const Vec2& p : {Vec2(0, 0), Vec2(30, -70), Vec2(140, 20)}) {
        EXPECT_NEAR(plate.at(p), plane(p), 1e-9);
        EXPECT_NEAR((plate.slope(p) - Vec2(0.02, -0.01)).norm(), 0.0, 1e-11);
    }
}

TEST(ThinPlate, LetsGoOfAPointThatItMayPassAbove) {
    // A plane through three points passes 2 above the fourth: bending nothing, it is the least.
    const std::vector<PlatePoint> points{
        {{0, 0}, 0.0}, {{100, 0}, 0.0}, {{0, 100}, 4.0}, {{20, 50}, 0.0, true}};
    const ThinPlate plate(points);
    EXPECT_NEAR(plate.at({20, 50}), 2.0, 1e-9);
    EXPECT_NEAR(plate.slope({60, 60}).y(), 0.04, 1e-11);
}

TEST(ThinPlate, HoldsOnToAPointThatItMayNotFallBelow) {
    // Flat all round, the plate would lie below the point in the middle: it meets it.
    std::vector<PlatePoint> points = on_ring(100.0, 12, 0.0, false);
    points.push_back({{0, 0}, 5.0, true});
    points.push_back({{30, 0}, 1.0, true});  // and passes above this one by itself
    const ThinPlate plate(points);
    EXPECT_NEAR(plate.at({0, 0}), 5.0, 1e-9);
    EXPECT_GT(plate.at({30, 0}), 1.0);
    // As if the second were not there: of all plates above both, the one held least.
    points.pop_back();
    points.back().at_least = false;
    const ThinPlate same(points);
    for (const Vec2& p : {Vec2(30, 0), Vec2(-10, 60)}) EXPECT_NEAR(plate.at(p), same.at(p), 1e-9);
}

TEST(ThinPlate, ItsSlopeIsThatOfItsHeights) {
    // Second way: differences of heights over 2 mm.
    std::vector<PlatePoint> points = on_ring(100.0, 9, 0.0, false);
    points.push_back({{10, 5}, 6.0});
    const ThinPlate plate(points);
    for (const Vec2& p : {Vec2(40, 10), Vec2(-20, -60)}) {
        const Vec2 rise((plate.at(p + Vec2(1, 0)) - plate.at(p - Vec2(1, 0))) / 2.0,
                        (plate.at(p + Vec2(0, 1)) - plate.at(p - Vec2(0, 1))) / 2.0);
        EXPECT_NEAR((plate.slope(p) - rise).norm(), 0.0, 1e-4);
    }
}

}  // namespace
}  // namespace tearline::dish
