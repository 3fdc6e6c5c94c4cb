#include "core/surface/trace_geodesic.h"

#include <gtest/gtest.h>

#include <cmath>
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

TEST(TraceGeodesic, KeepsClairautsProductOnASurfaceOfRevolution) {
    // Clairaut: along a geodesic of a surface of revolution the distance from the axis times the
    // sine of the angle to the meridian is constant. The pseudosphere's waist: radius R cosh(y/R),
    // axis through (0, *, -R) along y.
    constexpr double R = 150.0;
    const Patch patch =
        test::analytic_patch(test::pseudosphere_map(R), test::within_disc(100), 100, 3);
    const auto product = [&](const SurfaceSample& s, const Vec3& along) {
        const Vec3 out(s.position.x(), 0.0, s.position.z() + R);
        const Vec3 round = Vec3(0, 1, 0).cross(out).normalized();
        return out.norm() * along.dot(round);
    };
    const Location from = *patch.locate({-30, -50});
    const SurfaceSample start = patch.sample(from);
    const std::vector<double> distances{30.0, 60.0, 90.0};
    for (const double a : {0.3, 0.8, 1.2, 1.57}) {
        const Vec3 round =
            Vec3(0, 1, 0).cross(Vec3(start.position.x(), 0, start.position.z() + R)).normalized();
        const Vec3 meridian = start.normal.cross(round);
        const Vec3 way = std::cos(a) * round + std::sin(a) * meridian;
        const auto traced = trace_geodesic(patch, {from, way}, distances);
        ASSERT_EQ(traced.at.size(), 3u) << a;
        for (std::size_t i = 0; i < 3; ++i)
            EXPECT_NEAR(product(patch.sample(traced.at[i]), traced.direction[i]),
                        product(start, way), 0.05)
                << a << " " << distances[i];
    }
}

/// A chart direction as one in space, by a hair's step on the exact surface.
Vec3 space_direction_of(const Patch& patch, const Location& from, const Vec2& way) {
    const Vec2 p = patch.chart_point(from);
    const Vec3 ahead = patch.sample(*patch.locate(p + 0.01 * way)).position;
    return (ahead - patch.sample(from).position).normalized();
}

TEST(TraceGeodesic, LeadsBackTheWayItCame) {
    // Reversal: from the end, turned round, the same length leads to the start. Saddle and cap.
    for (const auto& map : {test::sphere_map(90), test::pseudosphere_map(150)}) {
        const Patch patch = test::analytic_patch(map, test::within_disc(100), 100, 5);
        const Location from = *patch.locate({-40, -25});
        const std::vector<double> distances{85.0};
        for (int k = 0; k < 8; ++k) {
            const double a = -0.4 + 0.25 * k;
            const Vec3 x = space_direction_of(patch, from, {std::cos(a), std::sin(a)});
            const auto there = trace_geodesic(patch, {from, x}, distances);
            ASSERT_EQ(there.at.size(), 1u);
            const auto back = trace_geodesic(patch, {there.at[0], -there.direction[0]}, distances);
            ASSERT_EQ(back.at.size(), 1u);
            EXPECT_LT((patch.sample(back.at[0]).position - patch.sample(from).position).norm(),
                      1e-3)
                << a;
        }
    }
}

TEST(TraceGeodesic, OfADirectionsNormalPartIsNothing) {
    // Only the tangential part counts: a length and a part along the normal change no place.
    const Patch patch = test::analytic_patch(test::sphere_map(200), test::within_disc(80), 80, 8);
    const Location from = *patch.locate({5, -12});
    const SurfaceSample s = patch.sample(from);
    const Vec3 way = s.normal.cross(Vec3(0.3, 1, 0)).normalized();
    const std::vector<double> distances{50.0};
    const auto plain = trace_geodesic(patch, {from, way}, distances);
    const Vec3 n = (patch.mesh.corner_normal[from.triangle.index()][0] * from.weights[0] +
                    patch.mesh.corner_normal[from.triangle.index()][1] * from.weights[1] +
                    patch.mesh.corner_normal[from.triangle.index()][2] * from.weights[2])
                       .normalized();
    const auto steep = trace_geodesic(patch, {from, 7.0 * way + 3.0 * n}, distances);
    ASSERT_EQ(plain.at.size(), 1u);
    ASSERT_EQ(steep.at.size(), 1u);
    // The sample's normal and the corner normals' mean differ by (edge / R)^2 / 8.
    EXPECT_LT((patch.chart_point(plain.at[0]) - patch.chart_point(steep.at[0])).norm(), 0.05);
}

}  // namespace
}  // namespace tearline::surface
