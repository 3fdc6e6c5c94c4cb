#include "core/plies/centreline_cut.h"

#include <gtest/gtest.h>

#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"

namespace tearline::plies {
namespace {

/// A deck-like plane that ends on the column x = `end`; bow along y, up along z.
struct EndedPlane {
    surface::Patch patch;
    std::vector<NetRegion> regions;

    EndedPlane(const test::AnalyticMap& map, bool hull_end) {
        const double edge = 110.0 / (11 * std::sqrt(3.0) / 2.0);
        patch = test::analytic_patch(
            map, [](const Vec2& p) { return p.norm() <= 260 && p.x() <= 110.001; }, 260, edge,
            false, hull_end);
        // Only the straight end is the hull's own: the rest was cropped.
        for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
            for (int i = 0; i < 3; ++i)
                patch.hull_end[t][i] = hull_end && patch.neighbour[t][i] < 0 &&
                                       patch.chart[patch.mesh.triangle[t][i]].x() > 95 &&
                                       patch.chart[patch.mesh.triangle[t][(i + 1) % 3]].x() > 95;
        const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 60), 60);
        const std::vector<double> offsets{30.0, 90.0};
        regions = net_regions(patch, outline, offsets).value();
    }
};

TEST(CentrelineCut, IsFoundWhereTheEndLiesInAPlaneOfBowAndUp) {
    const EndedPlane plane(test::plane_map, true);
    const Vec3 bow(0, 1, 0), up(0, 0, 1);
    EXPECT_FALSE(centreline_cut(plane.patch, plane.regions[0], bow, up));  // not reached
    const auto cut = centreline_cut(plane.patch, plane.regions[1], bow, up);
    ASSERT_TRUE(cut);
    EXPECT_GT(cut->at.x(), 95.0);
    EXPECT_LT(cut->at.norm(), 150.0);
}

TEST(CentrelineCut, IsNotSeenInAnEndAcrossTheHull) {
    // The same end is a transom when the bow points along x.
    const EndedPlane plane(test::plane_map, true);
    EXPECT_FALSE(centreline_cut(plane.patch, plane.regions[1], {1, 0, 0}, {0, 0, 1}));
}

TEST(CentrelineCut, IsNotSeenInACurvedEnd) {
    // A sheer that leaves every such plane: the end bows by 260^2/(8 R) and more.
    const test::AnalyticMap bowed = [](const Vec2& p, int) {
        const double R = 800.0, a = p.y() / R;
        // The plane bent within itself: each column an arc about a far centre.
        return surface::SurfaceSample{
            {p.x() - (R + p.x()) * (1 - std::cos(a)), (R + p.x()) * std::sin(a), 0.0},
            {0, 0, 1},
            0.0,
            0.0};
    };
    const EndedPlane plane(bowed, true);
    ASSERT_TRUE(plane.regions[1].cut_at_hull_end);
    EXPECT_FALSE(centreline_cut(plane.patch, plane.regions[1], {0, 1, 0}, {0, 0, 1}));
}

}  // namespace
}  // namespace tearline::plies
