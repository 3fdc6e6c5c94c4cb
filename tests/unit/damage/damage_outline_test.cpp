#include "core/damage/damage_outline.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/surface/closed_spline.h"
#include "core/surface/locate_near.h"
#include "tests/support/analytic_patch.h"

namespace tearline::damage {
namespace {

const Vec3 bow = Vec3::UnitX(), up = Vec3::UnitY();

const surface::Patch& plane() {
    static const surface::Patch patch =
        test::analytic_patch(test::plane_map, test::within_box(210, 210), 220, 10, false, true);
    return patch;
}

Loop3 positions(const DamageOutline& outline) {
    Loop3 loop;
    for (const OutlinePoint& point : outline.points) loop.push_back(point.position);
    return loop;
}

TEST(DamageOutline, DiscOnASphereHasTheClosedFormPerimeter) {
    // SOURCES.md section 6: R 1000, r 300: P = 2 pi R sin(r/R) = 1856.8082 mm.
    const auto patch =
        test::analytic_patch(test::sphere_map(1000), test::within_disc(360), 370, 12);
    job::Damage damage;
    damage.centre = Vec3(0, 0, 3);
    damage.radius = 300.0;
    const auto outline = damage_outline(patch, damage, bow, up);
    ASSERT_TRUE(outline) << outline.error().message();
    EXPECT_NEAR(perimeter(positions(*outline)), 1856.8082, 0.1);
    for (const OutlinePoint& point : outline->points) {
        // Geodesic distance from the pole by the angle between normals.
        const Vec3 n = (point.position + Vec3(0, 0, 1000)).normalized();
        EXPECT_NEAR(1000.0 * std::acos(n.z()), 300.0, 0.05);
        EXPECT_NEAR(point.tangent_out.dot(n), 0.0, 1e-6);
    }
    EXPECT_GT(signed_area(outline->chart), 0.0);
}

TEST(DamageOutline, EllipseIsExactOnThePlane) {
    job::Damage damage;
    damage.centre = Vec3(10, 20, 0);
    damage.length = 200.0;
    damage.height = 80.0;
    const auto outline = damage_outline(plane(), damage, bow, up);
    ASSERT_TRUE(outline) << outline.error().message();
    for (const OutlinePoint& point : outline->points) {
        const double x = (point.position.x() - 10.0) / 100.0,
                     y = (point.position.y() - 20.0) / 40.0;
        EXPECT_NEAR(x * x + y * y, 1.0, 1e-6);
    }
    // Chords within 0.01 mm of the curve cut off at most two thirds of that all along it.
    EXPECT_NEAR(signed_area(outline->chart), std::numbers::pi * 100.0 * 40.0,
                0.01 * 2.0 / 3.0 * perimeter(outline->chart));
}

TEST(DamageOutline, SmoothJoinPassesThroughThePicksAndChordsFollowIt) {
    job::Damage damage;
    damage.outline = {{-80, -40, 2}, {60, -60, -1}, {90, 50, 0}, {-20, 70, 4}, {-90, 30, 0}};
    const auto outline = damage_outline(plane(), damage, bow, up);
    ASSERT_TRUE(outline) << outline.error().message();
    for (const Vec3& pick : damage.outline) {
        double nearest = 1e9;
        for (const OutlinePoint& point : outline->points)
            nearest = std::min(nearest, (point.position.head<2>() - pick.head<2>()).norm());
        EXPECT_NEAR(nearest, 0.0, 1e-6);
    }
    // Second computation: the spline itself, sampled ten times as densely, on the plane z = 0.
    std::vector<Vec3> knots = damage.outline;
    for (Vec3& p : knots) p.z() = 0.0;
    const surface::ClosedSpline spline(knots);
    for (std::size_t s = 0; s < spline.segments(); ++s)
        for (int i = 0; i < 500; ++i) {
            const Vec3 p = spline.at(s, i / 500.0);
            double nearest = 1e9;
            const auto& points = outline->points;
            for (std::size_t k = 0; k < points.size(); ++k) {
                const Vec3 a = points[k].position;
                const Vec3 ab = points[(k + 1) % points.size()].position - a;
                const double t = std::clamp((p - a).dot(ab) / ab.squaredNorm(), 0.0, 1.0);
                nearest = std::min(nearest, (p - a - t * ab).norm());
            }
            EXPECT_LT(nearest, 0.015);
        }
}

TEST(DamageOutline, StraightJoinIsTheUnfoldedLineAcrossACrease) {
    // Closed form: across a crease of two planes the shortest way is straight once unfolded, which
    // is the wedge's own chart.
    const auto patch = test::analytic_patch(test::wedge_map(std::numbers::pi / 4),
                                            test::within_box(210, 210), 220, 10, true);
    const auto on = [&](double x, double y) {
        return test::wedge_map(std::numbers::pi / 4)({x, y}, x < 0 ? -1 : 1).position;
    };
    job::Damage damage;
    damage.outline = {on(-80, -50), on(70, -30), on(60, 80), on(-90, 60)};
    damage.join = job::Join::straight;
    const auto outline = damage_outline(patch, damage, bow, up);
    ASSERT_TRUE(outline) << outline.error().message();
    const Loop2 corners{{-80, -50}, {70, -30}, {60, 80}, {-90, 60}};
    EXPECT_NEAR(signed_area(outline->chart), signed_area(corners), 0.01);
    EXPECT_NEAR(perimeter(outline->chart), perimeter(corners), 1e-3);
    int turning = 0;
    for (const OutlinePoint& point : outline->points)
        turning += point.tangent_in.dot(point.tangent_out) < 0.9 ? 1 : 0;
    EXPECT_EQ(turning, 4);
}

TEST(DamageOutline, ChordsFollowTheSurfaceOverACrease) {
    // Origin: the wedge itself, z = -|x| tan(turn / 2). The smooth curve's own foot
    // jumps from one side of a convex crease to the other, a straight one's points miss the edge.
    const double turn = 1.0, fall = std::tan(0.5 * turn);
    const auto patch =
        test::analytic_patch(test::wedge_map(turn), test::within_box(210, 210), 220, 10, true);
    const auto on_wedge = [&](double x, double y) {
        return test::wedge_map(turn)({x, y}, x < 0 ? -1 : 1).position;
    };
    job::Damage damage;
    damage.outline = {on_wedge(-70, -40), on_wedge(20, -75), on_wedge(80, 10), on_wedge(30, 70),
                      on_wedge(-60, 50)};
    for (const job::Join join : {job::Join::smooth, job::Join::straight}) {
        damage.join = join;
        const auto outline = damage_outline(patch, damage, bow, up);
        ASSERT_TRUE(outline) << outline.error().message();
        const Loop3 loop = positions(*outline);
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec3 middle = 0.5 * (loop[i] + loop[(i + 1) % loop.size()]);
            EXPECT_NEAR(middle.z(), -fall * std::abs(middle.x()), 0.02) << i;
            EXPECT_LE((loop[(i + 1) % loop.size()] - loop[i]).norm(), 5.0 + 1e-9) << i;
        }
    }
}

TEST(DamageOutline, DiscAndEllipseCrossACreaseAsTheyWouldAPlane) {
    // Closed form: the wedge's chart is the plane that it unfolds to, where the disc is a circle
    // and the ellipse an ellipse. Rays set out square to the outline: a direction that is wrong
    // beside the crease parts them.
    const auto patch = test::analytic_patch(test::wedge_map(std::numbers::pi / 2),
                                            test::within_box(210, 210), 220, 10, true);
    const Vec2 centre(-15.0, 3.0);
    for (const Vec2& half : {Vec2(100, 100), Vec2(120, 70)}) {
        job::Damage damage;
        damage.centre = test::wedge_map(std::numbers::pi / 2)(centre, -1).position;
        if (half.x() == half.y()) {
            damage.radius = half.x();
        } else {
            damage.length = 2.0 * half.x();
            damage.height = 2.0 * half.y();
        }
        const auto outline = damage_outline(patch, damage, {1, 0, 0}, {0, 1, 0});
        ASSERT_TRUE(outline) << outline.error().message();
        for (std::size_t i = 0; i < outline->points.size(); ++i) {
            const Vec2 off = outline->chart[i] - centre;
            const Vec2 along = Vec2(-off.y() / half.y() / half.y(), off.x() / half.x() / half.x());
            for (const Vec3& tangent :
                 {outline->points[i].tangent_in, outline->points[i].tangent_out}) {
                const Vec2 got =
                    surface::chart_direction(patch, outline->points[i].at.triangle, tangent);
                EXPECT_NEAR(std::atan2(cross2(along, got), along.dot(got)), 0.0, 0.005)
                    << outline->chart[i].transpose();
            }
        }
    }
}

TEST(DamageOutline, RunsCounterClockwiseWhicheverWayItWasPicked) {
    job::Damage damage;
    damage.outline = {{-50, -50, 0}, {-50, 50, 0}, {50, 50, 0}, {50, -50, 0}};
    damage.join = job::Join::straight;
    const auto outline = damage_outline(plane(), damage, bow, up);
    ASSERT_TRUE(outline) << outline.error().message();
    EXPECT_NEAR(signed_area(outline->chart), 10000.0, 1e-3);
    const auto& points = outline->points;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 on =
            (points[(i + 1) % points.size()].position - points[i].position).normalized();
        EXPECT_NEAR(on.dot(points[i].tangent_out), 1.0, 1e-6);
    }
}

struct Refusal {
    const char* name;
    std::vector<Vec3> outline;
    const char* words;
};

class RefusedOutline : public testing::TestWithParam<Refusal> {};

TEST_P(RefusedOutline, SaysWhatIsWrong) {
    job::Damage damage;
    damage.outline = GetParam().outline;
    const auto outline = damage_outline(plane(), damage, bow, up);
    ASSERT_FALSE(outline);
    EXPECT_EQ(outline.error().kind, ErrorKind::bad_input);
    EXPECT_NE(outline.error().message().find(GetParam().words), std::string::npos)
        << outline.error().message();
}

INSTANTIATE_TEST_SUITE_P(
    DamageOutline, RefusedOutline,
    testing::Values(Refusal{"two_points", {{0, 0, 0}, {10, 0, 0}}, "3 or more"},
                    Refusal{"off_the_hull",
                            {{0, 0, 0}, {50, 0, 34.2}, {0, 50, 0}},
                            "point 2 [50.0, 0.0, 34.2] is 34.2 mm"},
                    Refusal{"bow_tie",
                            {{-50, -50, 0}, {50, 50, 0}, {50, -50, 0}, {-50, 50, 0}},
                            "crosses itself"},
                    Refusal{"twice_the_same",
                            {{0, 0, 0}, {50, 0, 0}, {50, 0, 0}, {0, 50, 0}},
                            "points 2 and 3"},
                    Refusal{"all_but_in_a_line",
                            {{-50, 0, 0}, {0, 0.1, 0}, {50, 0, 0}},
                            "encloses next to nothing"}),
    [](const auto& info) { return std::string(info.param.name); });

}  // namespace
}  // namespace tearline::damage
