#include "core/patch/lapped_patch.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "core/surface/curved_area.h"
#include "tests/support/analytic_patch.h"

namespace tearline::patch {
namespace {

constexpr double pi = std::numbers::pi;

surface::Patch plate() {
    return test::analytic_patch(test::plane_map, test::within_box(100.0, 60.0), 120.0, 8.0, false,
                                true);
}

/// The straight run of a plate's end along its greatest x or y.
std::size_t straight_run(const std::vector<EndRun>& runs) {
    std::size_t best = 0;
    for (std::size_t r = 0; r < runs.size(); ++r)
        if (runs[r].vertex.size() > runs[best].vertex.size()) best = r;
    return best;
}

TEST(EndRuns, StopAtCornersAndHaveTheHullToTheLeft) {
    const surface::Patch patch = plate();
    const auto runs = end_runs(patch, Vec3(0, 0, 0));
    ASSERT_FALSE(runs.empty());
    for (const EndRun& run : runs) {
        ASSERT_EQ(run.chart.size(), run.vertex.size());
        for (std::size_t i = 0; i + 1 < run.chart.size(); ++i) {
            const Vec2 along = run.chart[i + 1] - run.chart[i];
            const Vec2 left(-along.y(), along.x());
            EXPECT_TRUE(patch.locate(0.5 * (run.chart[i] + run.chart[i + 1]) + 0.01 * left));
        }
        EXPECT_LT((run.normal.front() - Vec3(0, 0, 1)).norm(), 1e-12);
    }
}

TEST(EndRuns, OfARoundEndAreOneThatBeginsFarFromTheDamage) {
    // A cap's rim is no corner anywhere but for its lattice's own jags, so a coarse limit is kept.
    surface::Patch cropped = plate();
    for (auto& end : cropped.hull_end) end = {false, false, false};
    EXPECT_TRUE(end_runs(cropped, Vec3(0, 0, 0)).empty());
}

TEST(LappedPatch, KeepsThePatchAndGoesOnOverItsEnd) {
    const surface::Patch patch = plate();
    const auto runs = end_runs(patch, Vec3(0, 0, 0));
    const std::size_t run = straight_run(runs);
    const double last = static_cast<double>(runs[run].vertex.size() - 1);
    const EndBend bend{12.0, pi / 2.0};
    const std::array<double, 1> lines{bend.girth() + 50.0};
    const auto over = lapped_patch(patch, runs, {{run, 2.0, last - 2.0}}, bend, lines);
    ASSERT_TRUE(over) << over.error().message();
    for (std::size_t v = 0; v < patch.chart.size(); ++v) {
        EXPECT_EQ(over->patch.chart[v], patch.chart[v]);
        EXPECT_EQ(over->patch.mesh.position[v], patch.mesh.position[v]);
    }
    // A place of the strip is found by its chart, lies on the quarter circle, and has its foot.
    const Vec2 at = over->chart_at(run, 0.5 * last, 6.0);
    const auto found = over->patch.locate(at);
    ASSERT_TRUE(found);
    const double turn = 6.0 / 12.0;
    EXPECT_NEAR(over->patch.sample(*found).position.z(), 12.0 * (std::cos(turn) - 1.0), 1e-6);
    EXPECT_LT((*over->foot(at) - over->chart_at(run, 0.5 * last, 0.0)).norm(), 1e-9);
    EXPECT_FALSE(over->foot(Vec2(0, 0)));
    // Developable: the chart is as large as the surface.
    EXPECT_NEAR(area(over->patch.domain()) / surface::curved_area(over->patch.mesh), 1.0, 1e-6);
}

TEST(LappedPatch, IsRefusedWhereTheEndClosesInOnTheLap) {
    // A hole of radius 30: a lap of 60 on its plane's own level would go over its far side.
    surface::Patch patch = test::analytic_patch(
        test::plane_map, [](const Vec2& p) { return p.norm() > 30.0 && p.norm() < 100.0; }, 110.0,
        4.0, false, true);
    auto runs = end_runs(patch, Vec3(90, 0, 0));
    std::size_t inner = runs.size();
    for (std::size_t r = 0; r < runs.size(); ++r)
        if (runs[r].chart.front().norm() < 50.0 &&
            (inner == runs.size() || runs[r].vertex.size() > runs[inner].vertex.size()))
            inner = r;
    ASSERT_LT(inner, runs.size());
    const double last = static_cast<double>(runs[inner].vertex.size() - 1);
    const EndBend bend{40.0, pi / 2.0};
    const std::array<double, 1> lines{bend.girth() + 50.0};
    const auto over = lapped_patch(patch, runs, {{inner, 0.0, last}}, bend, lines);
    ASSERT_FALSE(over);
    EXPECT_EQ(over.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(over.error().message().find("damage.at_end"), std::string::npos);
}

}  // namespace
}  // namespace tearline::patch
