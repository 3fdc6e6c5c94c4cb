#include "core/parallel/parallel_surface.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "core/surface/across.h"
#include "core/surface/curved_area.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/mesh_checks.h"
#include "tests/support/unroll.h"
#include "tests/unit/parallel/at_depth.h"

namespace tearline::parallel::parallel_surface_test {
namespace {

using std::numbers::pi;

double degrees(double d) {
    return d * pi / 180.0;
}

/// The parallel surface of a whole test patch.
/// Width of the unrolled mesh square to the chart's y axis, measured along the row of vertices at
/// y = 0: from the vertex with the least x to the one with the greatest.
double girth(const ParallelSurface& s) {
    const auto unrolled = test::unroll(s.mesh);
    EXPECT_EQ(unrolled.reached, s.mesh.triangle.size());
    std::int32_t low = -1;
    std::int32_t high = -1;
    for (std::size_t v = 0; v < s.chart.size(); ++v) {
        if (std::abs(s.chart[v].y()) > 1e-9) continue;
        if (low < 0 || s.chart[v].x() < s.chart[low].x()) low = static_cast<std::int32_t>(v);
        if (high < 0 || s.chart[v].x() > s.chart[high].x()) high = static_cast<std::int32_t>(v);
    }
    return (unrolled.flat[high] - unrolled.flat[low]).norm();
}

double base_girth(const surface::Patch& patch) {
    double low = 0.0;
    double high = 0.0;
    for (const Vec2& p : patch.chart)
        if (std::abs(p.y()) < 1e-9) {
            low = std::min(low, p.x());
            high = std::max(high, p.x());
        }
    return high - low;
}

TEST(ParallelSurface, LosesTwiceDepthTimesTangentOverAConvexCrease) {
    // SOURCES.md section 6: 2 d tan(f/2) = 4.556 mm at 45 degrees, 5.5 mm.
    for (const double edge : {2.0, 4.0, 9.0, 24.0}) {
        const auto patch = test::analytic_patch(test::wedge_map(degrees(45)),
                                                test::within_box(100, 80), 130, edge, true);
        const auto s = at_depth(patch, constant(5.5));
        ASSERT_TRUE(s) << s.error().message();
        test::expect_manifold(s->mesh);
        EXPECT_NEAR(base_girth(patch) - girth(*s), 4.556, 0.0006) << edge;
        EXPECT_LT(test::unroll(s->mesh).mismatch, 1e-6) << edge;
        ASSERT_EQ(s->creases.size(), 1u);
        EXPECT_NEAR(s->creases[0].trimmed, 4.556, 0.0006);
        EXPECT_NEAR(s->creases[0].turn, degrees(45), 1e-12);
    }
}

TEST(ParallelSurface, GainsDepthTimesAngleOverAConcaveCrease) {
    // SOURCES.md section 6: longer by d f = 5.5 pi / 4.
    for (const double edge : {2.0, 9.0, 24.0}) {
        const auto patch = test::analytic_patch(test::wedge_map(degrees(-45)),
                                                test::within_box(100, 80), 130, edge, true);
        const auto s = at_depth(patch, constant(5.5));
        ASSERT_TRUE(s) << s.error().message();
        test::expect_manifold(s->mesh);
        EXPECT_NEAR(girth(*s) - base_girth(patch), 5.5 * degrees(45), 1e-6) << edge;
        EXPECT_LT(test::unroll(s->mesh).mismatch, 1e-6);
        EXPECT_NEAR(s->creases[0].opened, 5.5 * degrees(45), 1e-9);
    }
}

TEST(ParallelSurface, AnEarThatStandsOnEdgeOverABendIsNoFoldBeforeItTurnsOver) {
    // Round a tube of radius 150 the middle of an arc of 30 mm stands 0.75 mm over its chord: three
    // places of a rim that hardly turns, 0.1 mm in it, make a triangle that stands 82 degrees off
    // the surface, and at each depth up to the axis as it does at none.
    const double radius = 150.0;
    surface::SurfaceMesh mesh;
    std::vector<Vec2> chart{{0.0, -15.0}, {0.1, 0.0}, {0.0, 15.0}};
    mesh.triangle = {{0, 1, 2}};
    mesh.corner_normal.emplace_back();
    for (std::size_t i = 0; i < 3; ++i) {
        const double way = chart[i].y() / radius;
        mesh.corner_normal[0][i] = {0.0, std::sin(way), std::cos(way)};
        mesh.position.emplace_back(chart[i].x(), radius * std::sin(way), radius * std::cos(way));
    }
    surface::set_arc_lengths(mesh, surface::neighbours(mesh));
    const std::vector<std::array<bool, 3>> crease{{false, false, false}};
    const BaseMesh base{mesh, chart, crease, {}};
    EXPECT_TRUE(parallel_surface(base, constant(0.3)));
    EXPECT_TRUE(parallel_surface(base, constant(0.9 * radius)));
    EXPECT_FALSE(parallel_surface(base, constant(1.1 * radius)));
}

TEST(ParallelSurface, OpensAConvexCreaseAboveTheBase) {
    // The mirror of the concave case: d f with both signs turned.
    const auto patch =
        test::analytic_patch(test::wedge_map(degrees(90)), test::within_box(60, 40), 90, 6.0, true);
    const auto s = at_depth(patch, constant(-3.0));
    ASSERT_TRUE(s) << s.error().message();
    EXPECT_NEAR(girth(*s) - base_girth(patch), 3.0 * degrees(90), 1e-6);
}

TEST(ParallelSurface, SpansRadiusLessDepthTimesTheAngle) {
    // SOURCES.md section 6: (R - d) x angle; 9.42 mm less on a 90 degree bilge 6 mm down.
    for (const double edge : {3.0, 8.0}) {
        const auto patch = test::analytic_patch(
            test::cylinder_map(40), test::within_box(40 * degrees(45) + 1e-9, 60), 90, edge);
        const auto s = at_depth(patch, constant(6.0));
        ASSERT_TRUE(s) << s.error().message();
        EXPECT_NEAR(girth(*s), base_girth(patch) * 34.0 / 40.0, 1e-4);  // slanting arcs: 4th order
        EXPECT_NEAR(surface::curved_area(s->mesh) / surface::curved_area(patch.mesh), 34.0 / 40.0,
                    1e-6);
    }
}

TEST(ParallelSurface, IsTheParallelConeBelowACone) {
    // A cone moved in by d along its normals is the cone of the same apex angle whose apex lies
    // d / sin(half) further along the axis: slants shorten by d / tan(half) (derived).
    const double half = degrees(15);
    const auto patch =
        test::analytic_patch(test::cone_map(200, half), test::within_box(150, 100), 190, 8.0);
    const auto s = at_depth(patch, constant(5.5));
    ASSERT_TRUE(s) << s.error().message();
    const auto unrolled = test::unroll(s->mesh);
    EXPECT_LT(unrolled.mismatch, 0.002);
    const double slant = 200 / std::sin(half);
    const Vec2 apex(0, slant);
    for (std::size_t v = 0; v + 7 < patch.chart.size(); v += 7) {
        // Distances between developed points: polar about the apex, slants less d / tan(half).
        const auto moved = [&](const Vec2& p) {
            const Vec2 arm = p - apex;
            return Vec2(arm * (1.0 - 5.5 / std::tan(half) / arm.norm()));
        };
        const double expected = (moved(patch.chart[v]) - moved(patch.chart[v + 7])).norm();
        EXPECT_NEAR((unrolled.flat[v] - unrolled.flat[v + 7]).norm(), expected, 0.01);
    }
}

TEST(ParallelSurface, HasTheAreaOfTheSmallerSphere) {
    // Areas go with (R - d)^2; the base cap's own area is checked through its mesh elsewhere.
    const auto patch =
        test::analytic_patch(test::sphere_map(500), test::within_disc(200), 240, 12.0);
    const auto s = at_depth(patch, constant(5.0));
    ASSERT_TRUE(s) << s.error().message();
    EXPECT_NEAR(surface::curved_area(s->mesh) / surface::curved_area(patch.mesh), 0.99 * 0.99,
                1e-9);
}

}  // namespace
}  // namespace tearline::parallel::parallel_surface_test
