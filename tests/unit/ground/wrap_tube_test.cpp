#include "core/ground/wrap_tube.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/ground/ground.h"
#include "core/plane/nearest_on_line.h"
#include "core/surface/surface_behind.h"
#include "core/surface/winding.h"
#include "tests/support/flat_plate.h"
#include "tests/support/loops.h"

/// Repairs that go right round a tube: it rolls out flat, and so discs on it are discs.
namespace tearline::ground {
namespace {

using std::numbers::pi;

/// A tube along x about the damage at (0, 0, -radius), wider towards +x by tan(half) where it is a
/// cone; its facets within 0.2 mm of it.
hull::Hull tube(double radius, double half = 0.0) {
    return test::read_mesh(test::grid(40, 20, [=](double u, double v) {
        const double a = 2.0 * pi * u, x = 640.0 * v - 320.0, r = radius + x * std::tan(half);
        return Vec3(x, -r * std::sin(a), -r * std::cos(a));
    }));
}

/// Mats of 1 mm in a dish of 4 mm: ply k ends `ratio` k mm outside a disc at the tube's bottom.
job::Job disc(double tube_radius, double radius, double ratio) {
    job::Job job = test::disc_on_plate(radius, Vec3(0, 0, -tube_radius));
    job.hull.up = Vec3(0, 0, 1);
    job.scarf.ratio = ratio;
    job.fabrics.at("mat 450").thickness = 1.0;
    job.fabrics.at("mat 450").tear_margin = 20.0;
    return job;
}

/// Edges 138, 166, 194 and 222 mm out of the 188.5 mm to the tube's far side.
Ground wrapped() {
    auto ground = lay_ground(disc(60.0, 110.0, 28.0), tube(60.0));
    if (!ground) throw std::runtime_error(ground.error().message());
    return std::move(*ground);
}

/// Area of a disc about a place of a cylinder unrolled, as far as half way round to either side.
double round_area(double reach, double girth) {
    const double half = std::min(0.5 * girth, reach);
    return 2.0 * (half * std::sqrt(reach * reach - half * half) +
                  reach * reach * std::asin(half / reach));
}

/// The way round the tube in the chart, from the middle of the damage.
Vec2 way_round(const Ground& ground) {
    const auto place = [&](const Vec2& off) {
        return ground.patch.sample(*ground.patch.locate(ground.frame.chart + off)).position;
    };
    const double h = 2.0;
    return Vec2(place({h, 0}).y() - place({-h, 0}).y(), place({0, h}).y() - place({0, -h}).y())
        .normalized();
}

TEST(WrapTube, EveryPlyCoversTheTubeOnceAsFarAsItReaches) {
    // Closed form on the unrolled cylinder.
    const Ground ground = wrapped();
    ASSERT_TRUE(ground.wrap);
    EXPECT_NEAR(ground.wrap->girth, 120.0 * pi, 0.15);
    ASSERT_EQ(ground.ply_regions.size(), 4u);
    for (std::size_t i = 0; i < 4; ++i) {
        const double reach = 110.0 + 28.0 * static_cast<double>(i + 1);
        EXPECT_NEAR(test::area_of(ground.ply_regions[i].chart) / round_area(reach, 120.0 * pi), 1.0,
                    1e-3)
            << i + 1;
    }
    const plies::NetRegion& scarf = ground.region_at(ground.scarf_offset);
    EXPECT_NEAR(test::area_of(scarf.chart) / round_area(222.0, 120.0 * pi), 1.0, 1e-3);

    // Those that meet themselves do so on one line of the tube, next ones a quarter of it apart.
    const auto& seams = ground.wrap->seams;
    ASSERT_EQ(seams.size(), 4u);
    EXPECT_TRUE(seams[0].empty() && seams[1].empty());
    EXPECT_NEAR(ground.wrap->apart, 0.25 * ground.wrap->girth, 1e-9);
    const Vec2 round = way_round(ground);
    std::vector<double> ways;
    for (const std::size_t ply : {2u, 3u}) {
        ASSERT_EQ(seams[ply].size(), 2u);
        double sum = 0.0, count = 0.0;
        for (const Vec2& p : seams[ply][0]) {
            const auto here = ground.patch.locate(p);
            if (!here) continue;
            sum += round.dot(p - ground.frame.chart);
            count += 1.0;
            const auto same = ground.patch.behind->winding()->turned(ground.patch, p, 1);
            if (!same) continue;
            // A girth apart in the chart, and one place in space: on the other end's line.
            EXPECT_NEAR((*same - p).norm(), ground.wrap->girth, 0.1);
            EXPECT_LT(plane::distance_to_line(seams[ply][1], *same), 1e-3);
            const auto there = ground.patch.locate(*same);
            ASSERT_TRUE(there);
            EXPECT_LT(
                (ground.patch.sample(*there).position - ground.patch.sample(*here).position).norm(),
                1e-6);
        }
        ASSERT_GT(count, 0.0);
        ways.push_back(sum / count);
    }
    EXPECT_NEAR(std::abs(ways[0] - ways[1]), 30.0 * pi, 0.3);
}

TEST(WrapTube, DishIsTheDeeperOfBothWaysRound) {
    // By hand: 4 mm less a 28th of the way beyond 110 mm, by the shorter way of the two.
    const Ground ground = wrapped();
    const Vec2 round = way_round(ground);
    const double girth = 120.0 * pi;
    for (const double way : {0.0, 100.0, 150.0, 185.0, 200.0, 215.0})
        for (const double sign : {-1.0, 1.0}) {
            const double shorter = std::min(way, girth - way);
            EXPECT_NEAR(ground.dish->depth(ground.frame.chart + sign * way * round),
                        4.0 - std::max(0.0, shorter - 110.0) / 28.0, 0.01)
                << sign * way;
        }
    EXPECT_NEAR(ground.dish->deepest(), 4.0, 1e-12);
    EXPECT_FALSE(ground.dish->measured());
}

TEST(WrapTube, MovesJointsNearerToEachOtherWhereTheDamageReachesThem) {
    // By hand: a quarter of the girth apart they lie 188.5 - 47.1 = 141.4 mm from the middle,
    // within a disc of 150; at 0.8 of that 188.5 - 37.7 = 150.8.
    const hull::Hull hull = tube(60.0);
    const auto ground = lay_ground(disc(60.0, 150.0, 12.0), hull);
    ASSERT_TRUE(ground) << ground.error().message();
    ASSERT_TRUE(ground->wrap);
    EXPECT_NEAR(ground->wrap->apart, 0.8 * 0.25 * ground->wrap->girth, 1e-9);
}

/// Area of a disc about a place of a cone unrolled, within half a turn to either side: second
/// route, by summing rings about the apex.
double round_area_of_cone(double reach, double from_apex, double half) {
    const double widest = pi * std::sin(half);  // half of the developed turn
    double sum = 0.0;
    constexpr int rings = 20000;
    const double step = 2.0 * reach / rings;
    for (int i = 0; i < rings; ++i) {
        const double s = from_apex - reach + (i + 0.5) * step;
        const double cosine =
            (s * s + from_apex * from_apex - reach * reach) / (2.0 * s * from_apex);
        sum += 2.0 * s * std::min(widest, std::acos(std::clamp(cosine, -1.0, 1.0))) * step;
    }
    return sum;
}

TEST(WrapTube, OfAConeIsItsSectorAndJointsRunToTheApex) {
    const double radius = 60.0, half = 0.05;
    const hull::Hull hull = tube(radius, half);
    const auto ground = lay_ground(disc(radius, 110.0, 28.0), hull);
    ASSERT_TRUE(ground) << ground.error().message();
    ASSERT_TRUE(ground->wrap);
    const double from_apex = radius / std::sin(half);
    EXPECT_NEAR(ground->wrap->girth, 2.0 * pi * radius, 0.2);
    for (std::size_t i = 0; i < 4; ++i) {
        const double reach = 110.0 + 28.0 * static_cast<double>(i + 1);
        EXPECT_NEAR(test::area_of(ground->ply_regions[i].chart) /
                        round_area_of_cone(reach, from_apex, half),
                    1.0, 2e-3)
            << i + 1;
    }
    // A joint is straight along the cone: all its places lie at one angle about the axis.
    for (const std::size_t ply : {2u, 3u}) {
        double low = 10.0, high = -10.0;
        for (const Vec2& p : ground->wrap->seams[ply][0]) {
            const auto at = ground->patch.locate(p);
            if (!at) continue;
            const Vec3 place = ground->patch.sample(*at).position;
            const double angle = std::atan2(place.y(), -place.z());
            low = std::min(low, angle);
            high = std::max(high, angle);
        }
        EXPECT_LT(high - low, 0.01) << ply;
    }
}

TEST(WrapTube, CannotGoWithALapOverTheTubesEnd) {
    // The damage's middle 120 mm from the rim at x = 320: cloth would lap along the tube and over
    // its end.
    job::Job job = disc(60.0, 110.0, 28.0);
    job.damage.centre = Vec3(200, 0, -60);
    job.damage.at_end = job::AtEnd::lap;
    const auto refused = lay_ground(job, tube(60.0));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().key, "damage.at_end") << refused.error().message();
    EXPECT_NE(refused.error().what.find("goes right round a tube"), std::string::npos);
}

}  // namespace
}  // namespace tearline::ground
