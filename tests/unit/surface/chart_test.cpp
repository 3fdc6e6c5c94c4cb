#include "core/surface/chart.h"

#include <gtest/gtest.h>

#include "tests/support/analytic_patch.h"

namespace tearline::surface {
namespace {

void expect_injective(const SurfaceMesh& mesh, const std::vector<Vec2>& chart) {
    ASSERT_EQ(chart.size(), mesh.position.size());
    for (const auto& t : mesh.triangle)
        ASSERT_GT(cross2(chart[t[1]] - chart[t[0]], chart[t[2]] - chart[t[0]]), 0.0);
}

TEST(Chart, UnrollsDevelopablesWithoutStretch) {
    for (const auto& map : {test::cylinder_map(100), test::cone_map(200, 0.26)}) {
        const Patch patch = test::analytic_patch(map, test::within_disc(120), 120, 8);
        const auto chart = make_chart(patch.mesh);
        expect_injective(patch.mesh, chart);
        const ChartQuality quality = chart_quality(patch.mesh, chart);
        EXPECT_NEAR(quality.least_stretch, 1.0, 2e-3);
        EXPECT_NEAR(quality.most_stretch, 1.0, 2e-3);
    }
}

TEST(Chart, LaysMoreThanAHemisphereWithoutFolds) {
    // Seen from any direction this cap hides its own rim: the best plane folds it.
    const Patch patch = test::analytic_patch(test::sphere_map(100), test::within_disc(200), 200, 6);
    expect_injective(patch.mesh, make_chart(patch.mesh));
}

TEST(Chart, KeepsAnOpeningOpen) {
    const auto ring = [](const Vec2& p) { return p.norm() <= 150 && p.norm() >= 40; };
    const Patch patch = test::analytic_patch(test::sphere_map(300), ring, 150, 6);
    const auto chart = make_chart(patch.mesh);
    expect_injective(patch.mesh, chart);
    for (const auto& loop : boundary_loops(patch.mesh)) {
        std::vector<Vec2> points;
        for (const std::int32_t v : loop) points.push_back(chart[v]);
        EXPECT_FALSE(crosses_itself(points));
    }
}

TEST(Chart, CrossesItselfTellsAnEightFromARing) {
    EXPECT_FALSE(crosses_itself({{0, 0}, {4, 0}, {4, 4}, {0, 4}}));
    EXPECT_TRUE(crosses_itself({{0, 0}, {4, 4}, {4, 0}, {0, 4}}));
}

}  // namespace
}  // namespace tearline::surface
