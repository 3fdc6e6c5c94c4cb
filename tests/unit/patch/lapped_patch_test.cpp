#include "core/patch/lapped_patch.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "core/surface/curved_area.h"
#include "tests/support/analytic_patch.h"

namespace tearline::patch {
namespace {

using std::numbers::pi;

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

/// The plane round a hole of radius 30 as far as 100, the hole's edge the hull's own end.
surface::Patch round_hole() {
    constexpr int about = 72, out = 14;
    surface::Patch patch;
    for (int j = 0; j <= out; ++j)
        for (int i = 0; i < about; ++i) {
            const double a = 2.0 * pi * i / about;
            patch.chart.push_back((30.0 + 5.0 * j) * Vec2(std::cos(a), std::sin(a)));
        }
    const auto at = [](int i, int j) { return j * about + i % about; };
    for (int j = 0; j < out; ++j)
        for (int i = 0; i < about; ++i) {
            patch.mesh.triangle.push_back({at(i, j), at(i, j + 1), at(i + 1, j)});
            patch.mesh.triangle.push_back({at(i + 1, j), at(i, j + 1), at(i + 1, j + 1)});
        }
    for (const Vec2& p : patch.chart) patch.mesh.position.emplace_back(p.x(), p.y(), 0.0);
    const Vec3 up(0, 0, 1);
    patch.mesh.corner_normal.assign(patch.mesh.triangle.size(), {up, up, up});
    patch.behind = std::make_shared<test::AnalyticSurface>(patch.chart, test::plane_map);
    finish_patch(patch);
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i)
            patch.hull_end[t][i] =
                patch.neighbour[t][i] < 0 && patch.chart[patch.mesh.triangle[t][i]].norm() < 40.0;
    return patch;
}

TEST(EndRuns, OfARoundEndAreOneThatBeginsFarFromTheDamage) {
    const auto runs = end_runs(round_hole(), Vec3(60, 0, 0));
    ASSERT_EQ(runs.size(), 1u);
    EXPECT_EQ(runs[0].vertex.size(), 73u);
    EXPECT_LT((runs[0].chart.front() - Vec2(-30, 0)).norm(), 1e-9);
    EXPECT_EQ(runs[0].vertex.front(), runs[0].vertex.back());
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
    EXPECT_LT((over->beyond(at)->foot - over->chart_at(run, 0.5 * last, 0.0)).norm(), 1e-9);
    EXPECT_FALSE(over->beyond(Vec2(0, 0)));
    // Developable: the chart is as large as the surface, arcs of 7.5 degrees to fourth order.
    EXPECT_NEAR(area(over->patch.domain()) / surface::curved_area(over->patch.mesh), 1.0, 1e-5);
}

TEST(LappedPatch, IsRefusedWhereTheEndClosesInOnTheLap) {
    // Rolled by a radius of 25 into a hole of 30 the face behind is a tube of radius 5.
    const surface::Patch patch = round_hole();
    const auto runs = end_runs(patch, Vec3(60, 0, 0));
    ASSERT_EQ(runs.size(), 1u);
    const EndBend bend{25.0, pi / 2.0};
    const std::array<double, 1> lines{bend.girth() + 20.0};
    const auto over = lapped_patch(patch, runs, {{0, 30.0, 42.0}}, bend, lines);
    ASSERT_FALSE(over);
    EXPECT_EQ(over.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(over.error().message().find("damage.at_end"), std::string::npos);
}

}  // namespace
}  // namespace tearline::patch
