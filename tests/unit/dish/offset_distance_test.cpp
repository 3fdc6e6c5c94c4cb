#include "core/dish/offset_distance.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"

namespace tearline::dish {
namespace {

TEST(OffsetDistance, IsTheGeodesicDistanceOnTheSphere) {
    // Closed form: the sphere map's chart radius is the geodesic distance from the pole.
    const auto patch = test::analytic_patch(test::sphere_map(500), test::within_disc(340), 340, 12);
    const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 100), 120);
    const std::vector<double> offsets{60.0, 200.0};
    const OffsetDistance distance(sweep_offsets(patch, outline, offsets));
    std::mt19937 random(19);  // fixed start value
    std::uniform_real_distribution<double> across(-290.0, 290.0);
    for (int i = 0; i < 4000; ++i) {
        const Vec2 p(across(random), across(random));
        if (p.norm() > 299) continue;
        EXPECT_NEAR(distance.at(p), std::max(0.0, p.norm() - 100), 0.04) << p.transpose();
    }
    EXPECT_DOUBLE_EQ(distance.at({0, 330}), 200.0);  // beyond the sweep
    EXPECT_FALSE(distance.reached({0, 330}));
}

TEST(OffsetDistance, TakesTheShorterOfTwoWays) {
    // Between two corners of an L the nearer of the two arms counts; plane distances by hand.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(300), 300, 12);
    const Loop2 corners{{-100, -100}, {100, -100}, {100, -20}, {-20, -20}, {-20, 100}, {-100, 100}};
    const auto outline = test::chart_outline(patch, test::polygon_curve(corners), 1);
    const std::vector<double> offsets{150.0};
    const OffsetDistance distance(sweep_offsets(patch, outline, offsets));
    EXPECT_NEAR(distance.at({30, 20}), 40.0, 1e-3);     // above the lower arm
    EXPECT_NEAR(distance.at({0, 60}), 20.0, 1e-3);      // beside the upper arm
    EXPECT_NEAR(distance.at({130, -140}), 50.0, 0.02);  // 30-40-50 off the corner
    EXPECT_NEAR(distance.at({60, 60}), 80.0, 1e-3);
    EXPECT_DOUBLE_EQ(distance.at({-50, -50}), 0.0);
    EXPECT_DOUBLE_EQ(distance.at({90, -30}), 0.0);
}

TEST(OffsetDistance, IsNoneAHairBeyondTheOutlineWhereTheHullEnds) {
    // No ray sets out from the side of the outline that is the hull's end: by definition the depth
    // there is that of the floor, however a place on the end was rounded.
    const auto inside = [](const Vec2& p) { return p.norm() <= 300 && p.x() <= 0.0; };
    const auto patch = test::analytic_patch(test::plane_map, inside, 300, 12, false, true);
    const auto end = patch.domain().outer;
    double right = -300.0;
    for (const Vec2& p : end) right = std::max(right, p.x());
    const Loop2 corners{{right - 80, -100}, {right, -100}, {right, 100}, {right - 80, 100}};
    const auto outline = test::chart_outline(patch, test::polygon_curve(corners), 1);
    const std::vector<double> offsets{60.0};
    const OffsetDistance distance(sweep_offsets(patch, outline, offsets));
    for (double y = -90.0; y <= 90.0; y += 7.5) {
        EXPECT_DOUBLE_EQ(distance.at({right - 1e-9, y}), 0.0) << y;
        EXPECT_DOUBLE_EQ(distance.at({right + 1e-9, y}), 0.0) << y;
    }
    EXPECT_NEAR(distance.at({right + 1e-9, 130.0}), 30.0, 0.01);
}

TEST(OffsetDistance, GoesRoundAnOpening) {
    // A round opening of radius a in the plane, a small damage beside it. The shortest way to a
    // point behind is tangent - arc - tangent: by hand from the centre distances.
    const double a = 50.0;
    const auto inside = [&](const Vec2& p) { return p.norm() <= 330 && p.norm() >= a; };
    const auto patch = test::analytic_patch(test::plane_map, inside, 330, 5, false, true);
    // The opening's rim is a polygon through lattice points outside the circle of radius a.
    const Vec2 centre(-140, 0);
    const double r = 40.0;
    const auto outline = test::chart_outline(patch, test::circle_curve(centre, r), 60);
    const std::vector<double> offsets{220.0};
    const auto sweep = sweep_offsets(patch, outline, offsets);
    EXPECT_GT(sweep.fronts.size(), 1u);
    const OffsetDistance distance(sweep);
    // The shortest closed string round the polygon lies between those of circles that fit in and
    // about it.
    const auto round = [&](const Vec2& p, double radius) {
        const double d1 = centre.norm(), d2 = p.norm();
        const double angle = std::acos(centre.dot(p) / (d1 * d2));
        const double arc = angle - std::acos(radius / d1) - std::acos(radius / d2);
        if (arc <= 0.0) return (p - centre).norm() - r;
        return std::sqrt(d1 * d1 - radius * radius) + std::sqrt(d2 * d2 - radius * radius) +
               radius * arc - r;
    };
    double rim = 0.0;
    for (const Vec2& p : patch.domain().holes.at(0)) rim = std::max(rim, p.norm());
    for (const Vec2& p : {Vec2(70, 0), Vec2(90, 8), Vec2(75, 25), Vec2(60, -20), Vec2(0, 90)}) {
        EXPECT_GE(distance.at(p), round(p, a) - 0.1) << p.transpose();
        EXPECT_LE(distance.at(p), round(p, rim) + 0.1) << p.transpose();
        // Never shorter than through the opening.
        EXPECT_GE(distance.at(p), (p - centre).norm() - r - 0.05);
    }
}

}  // namespace
}  // namespace tearline::dish
