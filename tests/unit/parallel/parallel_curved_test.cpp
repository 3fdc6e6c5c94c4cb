// Creases between curved sheets, creases that fade, and depths that vary.
#include <gtest/gtest.h>

#include <numbers>

#include "core/parallel/parallel_surface.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/mesh_checks.h"
#include "tests/support/unroll.h"
#include "tests/unit/parallel/at_depth.h"

namespace tearline::surface::parallel_curved_test {
namespace {

using parallel::at_depth;
using parallel::constant;

double degrees(double d) {
    return d * std::numbers::pi / 180.0;
}

/// The parallel surface of `patch`; `wide` is the same surface reaching further, as a hull does.
/// Two cylinders about lines along y that meet at x = 0 with a turn; radii positive where the sheet
/// bulges to the laying side. An exact chart.
test::AnalyticMap cylinders_map(double turn, double left, double right) {
    return [=](const Vec2& p, int side) {
        const double R = side < 0 ? left : right;
        const double start = 0.5 * turn * side;
        const double a = start + p.x() / R;
        const Vec3 centre(-R * std::sin(start), 0.0, -R * std::cos(start));
        const Vec3 n(std::sin(a), 0.0, std::cos(a));
        return SurfaceSample{centre + R * n + Vec3(0, p.y(), 0), n, std::min(0.0, 1.0 / R),
                             std::max(0.0, 1.0 / R)};
    };
}

/// Where the parallels of both cylinders meet, in the x, z plane: two circles.
Vec2 circles_meet(double turn, double left, double right, double d) {
    const auto centre = [&](double R, int side) {
        return Vec2(-R * std::sin(0.5 * turn * side), -R * std::cos(0.5 * turn * side));
    };
    const Vec2 a = centre(left, -1);
    const Vec2 b = centre(right, 1);
    const double ra = std::abs(left - d);
    const double rb = std::abs(right - d);
    const double c = (b - a).norm();
    const Vec2 x = (b - a) / c;
    const double along = (ra * ra - rb * rb + c * c) / (2 * c);
    const double up = std::sqrt(ra * ra - along * along);
    const Vec2 one = a + along * x + up * turned_left(x);
    const Vec2 two = a + along * x - up * turned_left(x);
    return one.norm() < two.norm() ? one : two;  // the crease lies at the origin
}

TEST(ParallelCurved, MeetsWhereTheParallelsOfTwoCylindersMeet) {
    struct Case {
        double turn, left, right, depth;
    };
    for (const auto& [turn, left, right, d] :
         {Case{degrees(45), 150, 80, 5.5}, Case{degrees(60), 100, -120, 8.0},
          Case{degrees(30), -200, -90, 6.0}, Case{degrees(80), 60, 60, 10.0}})
        for (const double edge : {2.5, 7.0, 14.0}) {
            const auto patch = test::analytic_patch(cylinders_map(turn, left, right),
                                                    test::within_box(50, 40), 80, edge, true);
            const auto wide = test::analytic_patch(cylinders_map(turn, left, right),
                                                   test::within_box(90, 90), 130, edge, true);
            const auto s = at_depth(patch, wide, constant(d));
            ASSERT_TRUE(s) << s.error().message();
            test::expect_manifold(s->mesh);
            const Vec2 ridge = circles_meet(turn, left, right, d);
            int on_ridge = 0;
            for (std::size_t t = 0; t < s->mesh.triangle.size(); ++t)
                for (int i = 0; i < 3; ++i) {
                    if (!s->crease[t][i]) continue;
                    ++on_ridge;
                    const Vec3& q = s->mesh.position[s->mesh.triangle[t][i]];
                    EXPECT_NEAR((Vec2(q.x(), q.z()) - ridge).norm(), 0.0, 1e-5);
                }
            EXPECT_GT(on_ridge, 4);
            // Girth: on each side the arc at depth from the ridge to the end of the sheet.
            const auto girth_of = [&, turn = turn, d = d](double R, int side, double end) {
                const Vec2 centre(-R * std::sin(0.5 * turn * side),
                                  -R * std::cos(0.5 * turn * side));
                const Vec2 arm = (R > 0 ? 1.0 : -1.0) * (ridge - centre);
                const double at_ridge = std::atan2(arm.x(), arm.y());
                return std::abs((0.5 * turn * side + end / R - at_ridge) * (R - d));
            };
            const auto unrolled = test::unroll(s->mesh);
            EXPECT_LT(unrolled.mismatch, 0.02) << edge;
            std::int32_t low = 0;
            std::int32_t high = 0;
            for (std::size_t v = 0; v < s->chart.size(); ++v) {
                if (std::abs(s->chart[v].y()) > 1e-9) continue;
                if (s->chart[v].x() < s->chart[low].x()) low = static_cast<std::int32_t>(v);
                if (s->chart[v].x() > s->chart[high].x()) high = static_cast<std::int32_t>(v);
            }
            const double expected =
                girth_of(left, -1, s->chart[low].x()) + girth_of(right, 1, s->chart[high].x());
            const Vec2 across = unrolled.flat[high] - unrolled.flat[low];
            const double shift = s->chart[high].y() - s->chart[low].y();
            EXPECT_NEAR(across.norm(), std::hypot(expected, shift), 0.01)
                << turn << " " << left << " " << right << " edge " << edge;
        }
}

/// Two cones of revolution about the z axis meeting in a circle of radius rho, each turned down by
/// half the turn from the level; x is the slant distance outwards from the circle, y the way round
/// it.
test::AnalyticMap ring_map(double rho, double turn) {
    return [=](const Vec2& p, int side) {
        const double fall = 0.5 * turn * side;
        const double r = rho + p.x() * std::cos(fall);
        const double around = p.y() / rho;
        const Vec3 out(std::cos(around), std::sin(around), 0.0);
        const Vec3 n = std::sin(fall) * out + Vec3(0, 0, std::cos(fall));
        return SurfaceSample{r * out + Vec3(0, 0, -p.x() * std::sin(fall)), n,
                             std::min(0.0, std::sin(fall) / r), std::max(0.0, std::sin(fall) / r)};
    };
}

TEST(ParallelCurved, KeepsACircularRidgeCircular) {
    // Both parallels are the cones sunk by d / cos(f/2): the ridge is the circle itself, sunk.
    for (const double rho : {120.0, 400.0})
        for (const double edge : {3.0, 8.0, 20.0}) {
            const double turn = degrees(50);
            const auto patch =
                test::analytic_patch(ring_map(rho, turn), test::within_disc(70), 80, edge, true);
            const auto wide =
                test::analytic_patch(ring_map(rho, turn), test::within_disc(100), 120, edge, true);
            const auto s = at_depth(patch, wide, constant(7.0));
            ASSERT_TRUE(s) << s.error().message();
            test::expect_manifold(s->mesh);
            for (std::size_t t = 0; t < s->mesh.triangle.size(); ++t)
                for (int i = 0; i < 3; ++i) {
                    if (!s->crease[t][i]) continue;
                    const Vec3& q = s->mesh.position[s->mesh.triangle[t][i]];
                    EXPECT_NEAR(std::hypot(q.x(), q.y()), rho, 1e-5);
                    EXPECT_NEAR(q.z(), -7.0 / std::cos(0.5 * turn), 1e-5);
                }
        }
}

/// A fold along x = 0 that fades: z = -|x| s(y), s falling from `steep` at y = -60 to zero at
/// y = 20 with a smooth end.
test::AnalyticMap fading_map(double steep) {
    return [steep](const Vec2& p, int side) {
        const double u = std::max(0.0, (20.0 - p.y()) / 80.0);
        const double s = steep * u * u;
        const double ds = -2.0 * steep * u / 80.0;
        const double x = p.x();
        const Vec3 n = Vec3(side * s, side * x * ds, 1.0).normalized();
        return SurfaceSample{{x, p.y(), -side * x * s}, n, 0.0, 0.0};
    };
}

/// No point of the surface lies nearer to a point at depth than the depth: the second, independent
/// reading of "at a given depth".
void expect_nothing_nearer(const parallel::ParallelSurface& s, const Patch& fine, double d,
                           double slack) {
    for (const Vec3& q : s.mesh.position)
        EXPECT_GT(fine.nearest(q).distance, std::abs(d) - slack) << "lay point " << q.transpose();
}

TEST(ParallelCurved, ClosesTheStripWhereACreaseFades) {
    const auto map = fading_map(0.5);
    const auto fine = test::analytic_patch(map, test::within_box(75, 85), 120, 1.5, true);
    for (const double edge : {3.0, 8.0, 16.0})
        for (const bool marked_where_flat : {true, false}) {
            auto patch = test::analytic_patch(map, test::within_box(60, 60), 90, edge, true);
            if (!marked_where_flat)
                for (std::size_t t = 0; t < patch.crease.size(); ++t)
                    for (int i = 0; i < 3; ++i) {
                        const auto& v = patch.mesh.triangle[t];
                        if (std::max(patch.chart[v[i]].y(), patch.chart[v[(i + 1) % 3]].y()) > 20)
                            patch.crease[t][i] = false;
                    }
            const auto trimmed = at_depth(patch, fine, constant(5.0));
            ASSERT_TRUE(trimmed) << trimmed.error().message();
            test::expect_manifold(trimmed->mesh);
            expect_nothing_nearer(*trimmed, fine, 5.0, 0.01);
            const auto opened = at_depth(patch, fine, constant(-5.0));
            ASSERT_TRUE(opened) << opened.error().message();
            test::expect_manifold(opened->mesh);
            expect_nothing_nearer(*opened, fine, 5.0, 0.01);
        }
}

TEST(ParallelCurved, FollowsADepthThatChangesSignAlongTheCrease) {
    // Depth a + b y over a wedge: every point of the mesh lies at the depth of its own foot under
    // the plane of its own corner.
    const double turn = degrees(60);
    const auto depth = [](const Vec2& p) { return 1.0 + 0.08 * p.y() + 0.03 * p.x(); };
    for (const double edge : {3.0, 9.0, 18.0}) {
        const auto patch =
            test::analytic_patch(test::wedge_map(turn), test::within_box(60, 60), 90, edge, true);
        const auto s = at_depth(patch, patch, depth);
        ASSERT_TRUE(s) << s.error().message();
        test::expect_manifold(s->mesh);
        for (std::size_t t = 0; t < s->mesh.triangle.size(); ++t) {
            if (s->arc[t]) continue;
            for (int i = 0; i < 3; ++i) {
                const Vec2& foot = s->corner_chart[t][i];
                const Vec2 middle =
                    (s->corner_chart[t][0] + s->corner_chart[t][1] + s->corner_chart[t][2]) / 3.0;
                const auto plane = test::wedge_map(turn)(foot, middle.x() < 0 ? -1 : 1);
                const Vec3& q = s->mesh.position[s->mesh.triangle[t][i]];
                const double under = -(q - plane.position).dot(plane.normal);
                EXPECT_NEAR(under, depth(foot), 0.02) << foot.transpose();
            }
        }
    }
}

TEST(ParallelCurved, LeansNormalsByTheSlopeOfTheDish) {
    // Over a plane a depth D - x / 12 makes the plane that falls the other way: its normal is
    // (-1/12, 0, 1) normed, its lengths along x grow by sqrt(1 + 1/144).
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(50), 60, 8.0);
    const auto s = at_depth(patch, patch, [](const Vec2& p) { return 8.0 - p.x() / 12.0; });
    ASSERT_TRUE(s) << s.error().message();
    const Vec3 expected = Vec3(-1.0 / 12.0, 0.0, 1.0).normalized();
    for (const auto& n : s->mesh.corner_normal)
        for (const Vec3& m : n) EXPECT_NEAR((m - expected).norm(), 0.0, 1e-12);
    EXPECT_NEAR(test::unroll(s->mesh).mismatch, 0.0, 1e-9);
}

}  // namespace
}  // namespace tearline::surface::parallel_curved_test
