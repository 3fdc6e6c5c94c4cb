#include "core/surface/trace_geodesic.h"

#include <gtest/gtest.h>

#include <numbers>

#include "tests/support/analytic_patch.h"

namespace tearline::surface {
namespace {

TEST(TraceGeodesic, IsStraightInThePlaneFromAVertexToo) {
    const Patch patch = test::analytic_patch(test::plane_map, test::within_disc(200), 200, 12);
    const std::vector<double> distances{10.0, 75.0, 150.0};
    for (const Vec2& from : {Vec2(0, 0), Vec2(3.3, -7.1)})
        for (int k = 0; k < 36; ++k) {
            const double a = k * std::numbers::pi / 18;
            const auto traced = trace_geodesic(
                patch, {*patch.locate(from), {std::cos(a), std::sin(a), 0.3}}, distances);
            ASSERT_EQ(traced.at.size(), 3u);
            for (int i = 0; i < 3; ++i) {
                const Vec3 p = patch.sample(traced.at[i]).position;
                EXPECT_NEAR(p.x(), from.x() + distances[i] * std::cos(a), 1e-4);
                EXPECT_NEAR(p.y(), from.y() + distances[i] * std::sin(a), 1e-4);
                EXPECT_NEAR(traced.direction[i].x(), std::cos(a), 1e-6);
            }
        }
}

TEST(TraceGeodesic, RunsGreatCirclesOnTheSphere) {
    // Closed form: at distance s from the start the angle at the centre is s / R.
    for (const double R : {500.0, 100.0, -100.0}) {
        const Patch patch = test::analytic_patch(test::sphere_map(R), test::within_disc(140), 140,
                                                 std::abs(R) < 200 ? 4.0 : 8.0);
        const Location from = *patch.locate({-40, 10});
        const SurfaceSample start = patch.sample(from);
        const std::vector<double> distances{60.0, 90.0};
        for (int k = 0; k < 24; ++k) {
            const double a = k * std::numbers::pi / 12;
            const auto traced =
                trace_geodesic(patch, {from, {std::cos(a), std::sin(a), 0}}, distances);
            ASSERT_EQ(traced.at.size(), 2u);
            for (int i = 0; i < 2; ++i) {
                const double angle = std::acos(patch.sample(traced.at[i]).normal.dot(start.normal));
                EXPECT_NEAR(std::abs(R) * angle, distances[i], 0.02) << "R " << R << " ray " << k;
            }
        }
    }
}

TEST(TraceGeodesic, CrossesACreaseAsTheUnfoldedStraightLine) {
    // Derived: the wedge's chart is its development, so a geodesic is a straight chart line.
    for (const double turn : {0.8, -0.8, 1.5}) {
        const Patch patch =
            test::analytic_patch(test::wedge_map(turn), test::within_box(200, 200), 200, 12, true);
        const Location from = *patch.locate({-61, -40});
        const double a = 0.6;
        const SurfaceSample s = patch.sample(from);
        const Vec3 across = Vec3(0, 1, 0).cross(s.normal);
        const std::vector<double> distances{150.0};
        const auto traced = trace_geodesic(
            patch, {from, std::cos(a) * across + std::sin(a) * Vec3(0, 1, 0)}, distances);
        ASSERT_EQ(traced.at.size(), 1u);
        const Vec2 end = patch.chart_point(traced.at[0]);
        EXPECT_NEAR(end.x(), -61 + 150 * std::cos(a), 1e-4);
        EXPECT_NEAR(end.y(), -40 + 150 * std::sin(a), 1e-4);
    }
}

TEST(TraceGeodesic, FollowsTheDevelopedConeAndCylinder) {
    for (const auto& map : {test::cylinder_map(40), test::cone_map(200, 0.26)}) {
        const Patch patch = test::analytic_patch(map, test::within_disc(100), 100, 5);
        const Location from = *patch.locate({-30, -20});
        const SurfaceSample s = patch.sample(from);
        const SurfaceSample ahead =
            patch.sample(*patch.locate(Vec2(-30, -20) + 0.01 * Vec2(0.8, 0.6)));
        const std::vector<double> distances{80.0};
        const auto traced = trace_geodesic(patch, {from, ahead.position - s.position}, distances);
        ASSERT_EQ(traced.at.size(), 1u);
        const Vec2 end = patch.chart_point(traced.at[0]);
        EXPECT_NEAR(end.x(), -30 + 80 * 0.8, 0.02);
        EXPECT_NEAR(end.y(), -20 + 80 * 0.6, 0.02);
    }
}

TEST(TraceGeodesic, SaysWhereItLeftThePatch) {
    const Patch cropped = test::analytic_patch(test::plane_map, test::within_box(50, 50), 50, 10);
    const Patch ended =
        test::analytic_patch(test::plane_map, test::within_box(50, 50), 50, 10, false, true);
    const std::vector<double> distances{20.0, 100.0};
    for (const Patch* patch : {&cropped, &ended}) {
        const auto traced = trace_geodesic(*patch, {*patch->locate({0, 0}), {0, 1, 0}}, distances);
        EXPECT_EQ(traced.at.size(), 1u);
        EXPECT_TRUE(traced.left_patch);
        EXPECT_EQ(traced.left_over_hull_end, patch == &ended);
        EXPECT_NEAR(traced.length, 50.0, 10.0);
        EXPECT_NEAR(traced.end_chart_direction.y(), 1.0, 1e-9);
    }
}

}  // namespace
}  // namespace tearline::surface
