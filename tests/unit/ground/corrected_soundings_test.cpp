#include "core/ground/corrected_soundings.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/analytic_patch.h"
#include "tests/support/loops.h"

namespace tearline::ground {
namespace {

/// Bare ground on a surface, its bow along x.
Ground ground_on(const test::AnalyticMap& map, double radius = 280.0) {
    Ground ground;
    ground.patch = test::analytic_patch(map, test::within_disc(radius), radius, 10);
    ground.frame.axis_from = Vec3(1, 0, 0);
    return ground;
}

std::vector<Region2> disc(double radius) {
    return {{test::circle(radius), {}}};
}

job::Job sounded_at(const Ground& ground, const std::vector<Vec2>& places) {
    job::Job job;
    for (const Vec2& p : places) {
        job::Sounding sounding;
        sounding.at = ground.patch.sample(*ground.patch.locate(p)).position;
        sounding.depth = 3.0;
        sounding.line = 40 + static_cast<int>(job.damage.soundings.size());
        job.damage.soundings.push_back(sounding);
    }
    return job;
}

const std::vector<Vec2> five{{0, 0}, {20, 5}, {-20, 5}, {3, 30}, {-4, -30}};

TEST(NearestPlaces, AreThoseOfTheirOwnStageUnderTheirNumbersInTheFile) {
    const Ground ground = ground_on(test::plane_map);
    job::Job job = sounded_at(ground, five);
    job.damage.soundings[1].after = 2;
    job.damage.soundings[4].after = 2;
    job.after_ply = 2;
    const auto placed = nearest_places(job, ground.patch);
    ASSERT_EQ(placed.size(), 2u);
    EXPECT_EQ(placed[0].name, "damage.sounding[2]");
    EXPECT_EQ(placed[1].name, "damage.sounding[5]");
    EXPECT_LT((placed[1].chart - five[4]).norm(), 1e-6);
    EXPECT_TRUE(placed[0].on_patch && placed[1].on_patch);
    EXPECT_FALSE(placed[0].under);
}

TEST(NearestPlaces, TellThatOneLiesOffTheHull) {
    const Ground ground = ground_on(test::plane_map);
    job::Job job = sounded_at(ground, five);
    job.damage.soundings[0].at += Vec3(0, 0, 200.0);
    job.damage.soundings[1].at = Vec3(320, 0, 0);  // beyond the rim
    const auto placed = nearest_places(job, ground.patch);
    EXPECT_FALSE(placed[0].on_patch);
    EXPECT_FALSE(placed[1].on_patch);
    EXPECT_TRUE(placed[2].on_patch);
}

TEST(PlacedSoundings, AreFiveOrMoreOnTheHull) {
    const Ground ground = ground_on(test::plane_map);
    job::Job job = sounded_at(ground, five);
    const auto placed = placed_soundings(job, ground.patch);
    ASSERT_TRUE(placed) << placed.error().message();
    EXPECT_EQ(placed->size(), 5u);
    job.damage.soundings.pop_back();
    const auto few = placed_soundings(job, ground.patch);
    ASSERT_FALSE(few);
    EXPECT_EQ(few.error().key, "damage.sounding");
    EXPECT_NE(few.error().what.find("4 soundings have after = 0; 5 or more"), std::string::npos);
    job.after_ply = 3;
    const auto later = placed_soundings(job, ground.patch);
    ASSERT_FALSE(later);
    EXPECT_NE(later.error().what.find("0 soundings have after = 3; take 5"), std::string::npos);
}

TEST(PlacedSoundings, NameTheLineOfOneThatLiesOffTheHull) {
    const Ground ground = ground_on(test::plane_map);
    job::Job job = sounded_at(ground, five);
    job.damage.soundings[3].at += Vec3(0, 0, 200.0);
    const auto off = placed_soundings(job, ground.patch);
    ASSERT_FALSE(off);
    EXPECT_EQ(off.error().key, "damage.sounding[4]");
    EXPECT_EQ(off.error().line, 43);
    EXPECT_EQ(off.error().place, job.damage.soundings[3].at);
}

TEST(StraightedgeOf, IsTurnedFromTheBowInTheTangentPlane) {
    // Closed form: on a cylinder along y, at an angle f round it, the bow x in the tangent plane is
    // (cos f, 0, -sin f); 90 degrees counter-clockwise from it, seen from outside, is y.
    constexpr double R = 400.0, f = 0.4;
    const Ground ground = ground_on(test::cylinder_map(R));
    const auto at = *ground.patch.locate({R * f, 20.0});
    const Vec3 x(std::cos(f), 0, -std::sin(f)), y(0, 1, 0);
    job::Sounding sounding;
    sounding.length = 321.0;
    for (const double degrees : {0.0, 30.0, 90.0, 200.0}) {
        sounding.degrees = degrees;
        const Straightedge edge = straightedge_of(ground, at, sounding);
        const double a = degrees * std::numbers::pi / 180.0;
        EXPECT_LT((edge.direction - (std::cos(a) * x + std::sin(a) * y)).norm(), 1e-9) << degrees;
        EXPECT_EQ(edge.length, 321.0);
    }
}

TEST(Depths, ByGaugeAreAsTheyWereReadAndByStraightedgeLessTheHullsOwnBulge) {
    // Closed form: over a bulge of radius R the edge rests on the rim of a ground disc r, so that
    // the old surface stood R (1 - cos(r / R)) over it.
    constexpr double R = 900.0, r = 80.0;
    const Ground ground = ground_on(test::sphere_map(R));
    job::Job job = sounded_at(ground, five);
    job.damage.soundings[0].from = job::Sounding::From::straightedge;
    job.damage.soundings[0].length = 400.0;
    auto soundings = *placed_soundings(job, ground.patch);
    const auto depths = depths_below_old_surface(job, ground, disc(r), soundings);
    ASSERT_TRUE(depths) << depths.error().message();
    ASSERT_EQ(depths->size(), 5u);
    EXPECT_NEAR((*depths)[0].depth, 3.0 + R * (1.0 - std::cos(r / R)), 0.005);
    EXPECT_EQ((*depths)[1].depth, 3.0);
    EXPECT_EQ((*depths)[1].name, "damage.sounding[2]");
    EXPECT_LT(((*depths)[1].at - five[1]).norm(), 0.01);
    EXPECT_TRUE(soundings[0].under);
    EXPECT_FALSE(soundings[1].under);
}

TEST(Depths, AreNeverAboveTheSurface) {
    // In a hollow the edge stands R - sqrt(R^2 - L^2/4) over the old surface: 25.4 mm here, and of
    // 20 mm read nothing is below it.
    const Ground ground = ground_on(test::sphere_map(-800.0));
    job::Job job = sounded_at(ground, five);
    job.damage.soundings[0].from = job::Sounding::From::straightedge;
    job.damage.soundings[0].length = 400.0;
    job.damage.soundings[0].depth = 20.0;
    auto soundings = *placed_soundings(job, ground.patch);
    const auto depths = depths_below_old_surface(job, ground, disc(80), soundings);
    ASSERT_TRUE(depths) << depths.error().message();
    EXPECT_EQ((*depths)[0].depth, 0.0);
    EXPECT_NEAR(*depth_below_old_surface(ground, disc(80), soundings[0]), -5.4, 0.05)
        << "for who asks for the deepest it is below zero";
}

TEST(Depths, OutsideTheGroundAreRefusedUnlessTheyAreNone) {
    const Ground ground = ground_on(test::plane_map);
    job::Job job = sounded_at(ground, five);
    job.damage.soundings[2].depth = 0.0;
    auto soundings = *placed_soundings(job, ground.patch);
    // By hand: a ground of 15 mm holds the middle alone; the third is out of it, and not deep.
    soundings.resize(1);
    EXPECT_TRUE(depths_below_old_surface(job, ground, disc(15), soundings));
    soundings = *placed_soundings(job, ground.patch);
    const auto refused = depths_below_old_surface(job, ground, disc(15), soundings);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().key, "damage.sounding[2]");
    EXPECT_EQ(refused.error().line, 41);
    EXPECT_NE(refused.error().what.find("3.0 mm deep"), std::string::npos);
    soundings = {soundings[0], soundings[2]};
    EXPECT_TRUE(depths_below_old_surface(job, ground, disc(15), soundings));
}

TEST(Depths, BeyondTheSkinAreRefused) {
    const Ground ground = ground_on(test::plane_map);
    job::Job job = sounded_at(ground, five);
    auto soundings = *placed_soundings(job, ground.patch);
    job.hull.skin = 3.0;
    EXPECT_TRUE(depths_below_old_surface(job, ground, disc(80), soundings));
    soundings[2].sounding.depth = 5.0;
    const auto refused = depths_below_old_surface(job, ground, disc(80), soundings);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().key, "damage.sounding[3]");
    EXPECT_NE(refused.error().what.find("5.0 mm is deeper than hull.skin, 3 mm"),
              std::string::npos);
    job.hull.skin.reset();
    EXPECT_TRUE(depths_below_old_surface(job, ground, disc(80), soundings));
}

TEST(Depths, UnderAStraightedgeThatCannotHaveLainThereNameTheSounding) {
    const Ground ground = ground_on(test::plane_map);
    job::Job job = sounded_at(ground, five);
    job.damage.soundings[1].from = job::Sounding::From::straightedge;
    job.damage.soundings[1].length = 100.0;
    auto soundings = *placed_soundings(job, ground.patch);
    const auto refused = depths_below_old_surface(job, ground, disc(80), soundings);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().key, "damage.sounding[2]");
    EXPECT_EQ(refused.error().line, 41);
    EXPECT_NE(refused.error().what.find("use a longer one"), std::string::npos);
}

}  // namespace
}  // namespace tearline::ground
