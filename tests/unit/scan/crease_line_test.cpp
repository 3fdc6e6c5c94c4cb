#include "core/scan/crease_line.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tearline::scan {
namespace {

TEST(PlaceView, IsARightHandedFrameThatLooksStraightOn) {
    const Vec3 middle(10, -20, 30);
    for (const Vec3& normal : {Vec3(0, 0, 2), Vec3(1, 1, 1), Vec3(-3, 0.1, 0), Vec3(0, -5, 1e-9)}) {
        const PlaceView view = PlaceView::along(middle, normal);
        EXPECT_LT((view.normal - normal.normalized()).norm(), 1e-12);
        EXPECT_LT((view.right.cross(view.up) - view.normal).norm(), 1e-12);
        // There and back, whatever the height.
        const Vec3 place = view.raised({7.0, -4.0}, 11.0);
        EXPECT_LT((view.flat(place) - Vec2(7.0, -4.0)).norm(), 1e-12);
        EXPECT_NEAR((place - middle).dot(view.normal), 11.0, 1e-12);
        EXPECT_NEAR((place - middle).norm(), std::sqrt(49.0 + 16.0 + 121.0), 1e-12);
    }
}

/// Seen from its chord, from (0, 0) to (100, 0): 10 mm up after 40, 5 mm down after 70.
CreaseLine bent() {
    return CreaseLine({{0, 0}, {40, 10}, {70, -5}, {100, 0}});
}

TEST(CreaseLine, IsKnownByHowFarAlongItsChord) {
    const CreaseLine line = bent();
    EXPECT_TRUE(line.goes_one_way());
    EXPECT_DOUBLE_EQ(line.length(), 100.0);
    EXPECT_LT((line.way() - Vec2(1, 0)).norm(), 1e-15);
    EXPECT_LT((line.across() - Vec2(0, 1)).norm(), 1e-15);
    EXPECT_DOUBLE_EQ(line.along({55.0, 99.0}), 55.0);
    // By hand: straight between its places, half way up the first of them at 20.
    EXPECT_LT((line.at(20.0) - Vec2(20, 5)).norm(), 1e-12);
    EXPECT_LT((line.at(55.0) - Vec2(55, 2.5)).norm(), 1e-12);
    EXPECT_NEAR(line.left_of({55.0, 10.0}), 7.5, 1e-12);
    EXPECT_NEAR(line.left_of({85.0, -10.0}), -7.5, 1e-12);
}

TEST(CreaseLine, GoesStraightOnPastItsEnds) {
    // By hand: the first part rises a quarter, the last a sixth.
    const CreaseLine line = bent();
    EXPECT_LT((line.at(-20.0) - Vec2(-20, -5)).norm(), 1e-12);
    EXPECT_LT((line.at(130.0) - Vec2(130, 5)).norm(), 1e-12);
    EXPECT_NEAR(line.left_of({-20.0, 0.0}), 5.0, 1e-12);
}

TEST(CreaseLine, AtItsOwnPlacesHasThemToNeitherSide) {
    const std::vector<Vec2> places{{3, 4}, {20, 31}, {44, 40}, {80, 90}};
    const CreaseLine line(places);
    for (const Vec2& p : places) {
        EXPECT_NEAR(line.left_of(p), 0.0, 1e-12);
        EXPECT_LT((line.at(line.along(p)) - p).norm(), 1e-12);
    }
    EXPECT_NEAR(line.length(), (places.back() - places.front()).norm(), 1e-12);
}

TEST(CreaseLine, TurnedAndMovedIsTheSameLine) {
    const double c = std::cos(2.3), s = std::sin(2.3);
    const auto moved = [&](const Vec2& p) {
        return Vec2(c * p.x() - s * p.y() + 50.0, s * p.x() + c * p.y() - 7.0);
    };
    const CreaseLine line = bent();
    const CreaseLine other({moved({0, 0}), moved({40, 10}), moved({70, -5}), moved({100, 0})});
    for (const Vec2& p : {Vec2(12, 30), Vec2(66, -40), Vec2(140, 2)}) {
        EXPECT_NEAR(other.along(moved(p)), line.along(p), 1e-12);
        EXPECT_NEAR(other.left_of(moved(p)), line.left_of(p), 1e-12);
    }
}

TEST(CreaseLine, ThatTurnsBackGoesNotOneWay) {
    EXPECT_FALSE(CreaseLine({{0, 0}, {60, 5}, {50, 10}, {100, 0}}).goes_one_way());
    EXPECT_FALSE(CreaseLine({{0, 0}, {50, 0}, {50, 10}, {100, 0}}).goes_one_way())
        << "square to its chord it is at two places at once";
    // It is as long as its ends lie apart: one that comes home has no way.
    const CreaseLine round({{0, 0}, {50, 30}, {0, 0}});
    EXPECT_EQ(round.length(), 0.0);
    EXPECT_FALSE(round.goes_one_way());
}

TEST(CreaseLine, LedThroughOtherPlacesKeepsItsChord) {
    CreaseLine line = bent();
    line.lead_through({{10, 4}, {90, 4}});
    EXPECT_LT((line.way() - Vec2(1, 0)).norm(), 1e-15);
    EXPECT_DOUBLE_EQ(line.length(), 100.0);
    for (const double along : {-30.0, 10.0, 50.0, 200.0})
        EXPECT_LT((line.at(along) - Vec2(along, 4)).norm(), 1e-12);
    EXPECT_TRUE(line.goes_one_way());
}

}  // namespace
}  // namespace tearline::scan
