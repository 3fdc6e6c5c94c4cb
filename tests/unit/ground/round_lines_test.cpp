#include "core/ground/round_lines.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/base/outline.h"
#include "core/patch/build_patch.h"
#include "tests/support/flat_plate.h"

/// Lines square to the way round a tube of radius 60 that stands on a deck: by symmetry straight
/// along the tube and radial on the deck, at equal turns.
namespace tearline::ground {
namespace {

using std::numbers::pi;
constexpr double radius = 60.0;

/// From 300 mm up the tube down to the deck, z = 0, and out to 300 mm on it; seen from outside.
hull::Hull foot() {
    return test::read_mesh(test::grid(72, 40, [](double u, double v) {
        const double a = 2.0 * pi * u, way = 600.0 * v - 300.0;
        const double out = radius + std::max(0.0, way);
        return Vec3(out * std::cos(a), out * std::sin(a), std::max(0.0, -way));
    }));
}

surface::Patch round_foot() {
    patch::PatchRequest request;
    request.seeds = {{radius, 0.0, 100.0}};
    request.damage_radius = 80.0;
    request.reach = 120.0;
    request.round = true;
    request.exact = true;
    auto patch = patch::build_patch(foot(), request);
    if (!patch) throw std::runtime_error(patch.error().message());
    return *std::move(patch);
}

TEST(RoundLines, GirthIsTheTubesOwn) {
    const surface::Patch patch = round_foot();
    const Vec2 from = patch.chart_point(patch.nearest({radius, 0.0, 100.0}).at);
    const auto lines = RoundLines::of(patch, from);
    ASSERT_TRUE(lines);
    // Facets of 5 degrees: chords are 0.13 % short.
    EXPECT_NEAR(lines->girth(), 2.0 * pi * radius, 0.004 * 2.0 * pi * radius);
    EXPECT_NEAR(lines->turn_at(from), 0.0, 1e-9);
}

TEST(RoundLines, TheLineHalfATurnOnIsOnTheFarSideOfTubeAndDeck) {
    const surface::Patch patch = round_foot();
    const Vec2 from = patch.chart_point(patch.nearest({radius, 0.0, 100.0}).at);
    const auto lines = RoundLines::of(patch, from);
    ASSERT_TRUE(lines);
    for (const double turn : {-0.5, 0.5}) {
        const auto line = lines->at(turn);
        ASSERT_GT(line.size(), 4u) << turn;
        for (const Vec2& p : line) {
            const auto at = patch.locate(p);
            if (!at) continue;
            const Vec3 place = patch.sample(*at).position;
            EXPECT_NEAR(std::abs(std::atan2(place.y(), place.x())), pi, 0.1) << place.transpose();
        }
    }
}

TEST(RoundLines, BetweenTwoLinesATurnApartLiesTheWholeTubeOnce) {
    const surface::Patch patch = round_foot();
    const Vec2 from = patch.chart_point(patch.nearest({radius, 0.0, 100.0}).at);
    const auto lines = RoundLines::of(patch, from);
    ASSERT_TRUE(lines);
    const Region2 whole = lines->between(-0.5, 0.5), half = lines->between(-0.5, 0.0);
    ASSERT_GT(whole.outer.size(), 8u);
    EXPECT_TRUE(contains(whole, from));
    for (const double turn : {-0.4, -0.2, 0.2, 0.4}) {
        const auto line = lines->at(turn);
        const Vec2 middle = line[line.size() / 2];
        EXPECT_TRUE(contains(whole, middle)) << turn;
        EXPECT_EQ(contains(half, middle), turn < 0.0) << turn;
    }
}

}  // namespace
}  // namespace tearline::ground
