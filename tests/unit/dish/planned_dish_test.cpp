#include "core/dish/planned_dish.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"

namespace tearline::dish {
namespace {

TEST(Profile, IsTheFloorInsideAndTheBaseSurfaceBeyond) {
    const Profile profile{{0, 8}, {96, 0}};  // 12:1 from 8 mm
    EXPECT_DOUBLE_EQ(depth_at(profile, -5), 8);
    EXPECT_DOUBLE_EQ(depth_at(profile, 0), 8);
    EXPECT_DOUBLE_EQ(depth_at(profile, 24), 6);
    EXPECT_DOUBLE_EQ(depth_at(profile, 96), 0);
    EXPECT_DOUBLE_EQ(depth_at(profile, 200), 0);
}

TEST(PlannedDish, IsTheFrustumRoundTheDamage) {
    // Closed form on the sphere: the chart's radius is the geodesic distance from the pole.
    const auto patch = test::analytic_patch(test::sphere_map(500), test::within_disc(340), 340, 12);
    const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 100), 120);
    const std::vector<double> offsets{96.0};
    const PlannedDish planned({{0, 8}, {96, 0}}, sweep_offsets(patch, outline, offsets));
    const DepthField& dish = planned;
    std::mt19937 random(23);  // fixed start value
    std::uniform_real_distribution<double> across(-200.0, 200.0);
    for (int i = 0; i < 1000; ++i) {
        const Vec2 p(across(random), across(random));
        const double depth = std::clamp(8.0 - (p.norm() - 100.0) / 12.0, 0.0, 8.0);
        EXPECT_NEAR(dish.depth(p), depth, 0.04 / 12.0) << p.transpose();
    }
    EXPECT_DOUBLE_EQ(dish.deepest(), 8.0);
    EXPECT_EQ(dish.profile().size(), 2u);
    EXPECT_FALSE(dish.measured());
    EXPECT_EQ(dish.soundings(), nullptr);
}

}  // namespace
}  // namespace tearline::dish
