#include "core/scan/two_arc.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <string>

namespace tearline::scan::two_arc_test {
namespace {

/// Axes turned any way, so that no test passes by lying along x, y, z.
Eigen::Matrix3d turned() {
    return Eigen::AngleAxisd(0.7, Vec3(1, 2, 3).normalized()).toRotationMatrix();
}

const Vec3 origin(1000, 200, -30);

/// Sound skin round a hole of radius 150: from 160 to 260 mm about (0, v).
std::vector<WeighedPoint> band(const TwoArc& surface, double v) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> place(-260.0, 260.0);
    std::vector<WeighedPoint> points;
    while (points.size() < 3000) {
        const Vec2 at(place(random), place(random));
        if (at.norm() > 160.0 && at.norm() < 260.0)
            points.push_back({surface.point({at.x(), v + at.y()}), 1.0});
    }
    return points;
}

double most_wrong_in_hole(const TwoArc& fitted, const TwoArc& truth, double v) {
    double most = 0.0;
    for (double x = -150.0; x <= 150.0; x += 30.0)
        for (double y = -150.0; y <= 150.0; y += 30.0)
            if (std::hypot(x, y) <= 150.0)
                most = std::max(most, std::abs(fitted.distance(truth.point({x, v + y}))));
    return most;
}

TEST(TwoArc, SphereDistanceIsThatFromItsCentre) {
    // Closed form: |p - c| - R.
    const double radius = 750.0;
    const TwoArc sphere(turned(), origin, 1.0 / radius, 1.0 / radius);
    const Vec3 centre = origin - radius * turned().col(2);
    for (const Vec3& p : {Vec3(1100, 300, 20), Vec3(900, 100, -200), Vec3(1000, 500, 300)})
        EXPECT_NEAR(sphere.distance(p), (p - centre).norm() - radius, 1e-9);
}

TEST(TwoArc, HollowCylinderDistanceIsThatFromItsAxis) {
    // Closed form: R - distance from the axis, seen from inside.
    const double radius = 300.0;
    const TwoArc hollow(turned(), origin, 0.0, -1.0 / radius);
    const Vec3 on_axis = origin + radius * turned().col(2), along = turned().col(0);
    for (const Vec3& p : {Vec3(1050, 250, 40), Vec3(960, 210, -90)}) {
        const Vec3 from = p - on_axis;
        EXPECT_NEAR(hollow.distance(p), radius - (from - from.dot(along) * along).norm(), 1e-9);
    }
}

TEST(TwoArc, FootAndPointAreInverse) {
    const TwoArc saddle(turned(), origin, 1.0 / 900.0, -1.0 / 700.0);
    const Vec2 uv(120.0, -210.0);
    const auto foot = saddle.foot(saddle.point(uv, 14.0));
    EXPECT_NEAR((foot.uv - uv).norm(), 0.0, 1e-9);
    EXPECT_NEAR(foot.distance, 14.0, 1e-9);
}

TEST(TwoArc, MeasuredElsewhereItIsTheSameSurfaceByTrueLengthsThere) {
    // Closed form: 60 degrees off the equator of a torus of 900 and 400 mm the way round is
    // 1 - (400 / 900) (1 - cos 60) = 7/9 of that on it.
    const TwoArc torus(turned(), origin, 1.0 / 900.0, 1.0 / 400.0);
    const Vec2 off_equator(50.0, 400.0 * std::numbers::pi / 3.0);
    const Vec3 place = torus.point(off_equator);
    const TwoArc there = torus.measured_at(place, 100.0);
    const auto foot = there.foot(torus.point(off_equator, 14.0));
    EXPECT_NEAR(foot.uv.x(), 50.0 * 7.0 / 9.0, 1e-9);
    EXPECT_NEAR(foot.uv.y(), off_equator.y(), 1e-9);
    EXPECT_NEAR(foot.distance, 14.0, 1e-9);
    EXPECT_NEAR((there.point(foot.uv) - place).norm(), 0.0, 1e-9);
    EXPECT_NEAR((there.normal(foot.uv) - torus.normal(off_equator)).norm(), 0.0, 1e-12);
    EXPECT_NEAR(there.over(foot.uv, {}).du.norm(), 1.0, 1e-12);
}

TEST(TwoArc, MeasuredNearItsAxisItDoesNotComeRound) {
    // By hand: 88 degrees off the equator of a torus of 300 and 300 mm the way round is 0.035 of
    // that on it, so that 100 mm there would go 2900 / 300 = 9.5 radians round. A quarter of the
    // way is what u of 100 mm may reach.
    const TwoArc ball(turned(), origin, 1.0 / 300.0, 1.0 / 300.0);
    const double v = 300.0 * 88.0 / 180.0 * std::numbers::pi;
    const TwoArc there = ball.measured_at(ball.point({0.0, v}), 100.0);
    const Vec3 forth = there.point({100.0, 0.0}) - there.point({0.0, 0.0});
    EXPECT_NEAR(forth.norm(), 300.0 * std::numbers::sqrt2, 1e-6);
    // And where it went farther round before, it stays as it was.
    const TwoArc wide = ball.measured_at(ball.point({0.0, v}), 900.0);
    EXPECT_NEAR((wide.point({50.0, v}) - ball.point({50.0, v})).norm(), 0.0, 1e-9);
}

class TwoArcDerivatives : public testing::TestWithParam<double> {};

TEST_P(TwoArcDerivatives, MatchDifferencesOfPoints) {
    // A second route: central differences of the points themselves.
    const TwoArc whole(turned(), origin, 1.0 / 900.0, 1.0 / 400.0);
    const TwoArc torus = whole.measured_at(whole.point({0.0, GetParam()}), 100.0);
    const auto height = [](const Vec2& uv) {
        const double u = uv.x() / 40.0, v = uv.y() / 50.0;
        TwoArc::Height h;
        h.value = 3.0 * std::sin(u) * std::cos(v);
        h.du = 3.0 / 40.0 * std::cos(u) * std::cos(v);
        h.dv = -3.0 / 50.0 * std::sin(u) * std::sin(v);
        h.duu = -h.value / 1600.0;
        h.dvv = -h.value / 2500.0;
        h.duv = -3.0 / 2000.0 * std::cos(u) * std::sin(v);
        return h;
    };
    const auto point = [&](double u, double v) {
        return torus.over({u, v}, height({u, v})).position;
    };
    const double u = 37.0, v = -61.0, e = 0.05;
    const SurfaceJet jet = torus.over({u, v}, height({u, v}));
    const Vec3 du = (point(u + e, v) - point(u - e, v)) / (2 * e);
    const Vec3 dv = (point(u, v + e) - point(u, v - e)) / (2 * e);
    const Vec3 duu = (point(u + e, v) - 2 * point(u, v) + point(u - e, v)) / (e * e);
    const Vec3 dvv = (point(u, v + e) - 2 * point(u, v) + point(u, v - e)) / (e * e);
    const Vec3 duv =
        (point(u + e, v + e) - point(u + e, v - e) - point(u - e, v + e) + point(u - e, v - e)) /
        (4 * e * e);
    EXPECT_LT((jet.du - du).norm(), 1e-6);
    EXPECT_LT((jet.dv - dv).norm(), 1e-6);
    EXPECT_LT((jet.duu - duu).norm(), 1e-8);
    EXPECT_LT((jet.dvv - dvv).norm(), 1e-8);
    EXPECT_LT((jet.duv - duv).norm(), 1e-8);
}

INSTANTIATE_TEST_SUITE_P(MeasuredAt, TwoArcDerivatives, testing::Values(0.0, 350.0));

struct Shape {
    const char* name;
    double along, across;  // [1/mm]
    double degrees;        // of the hole's middle off the equator, across
};

class FittedBaseIsExact : public testing::TestWithParam<Shape> {};

TEST_P(FittedBaseIsExact, OverTheHole) {
    // Closed form: the points are the surface's own. 0.02 mm is the bar; six parameters in place of
    // eight leave a torus 0.3 to 2.2 mm off, 20 to 45 degrees from its equator.
    const Shape& shape = GetParam();
    const TwoArc truth(turned(), origin, shape.along, shape.across);
    const double v = shape.across == 0.0
                         ? 0.0
                         : shape.degrees * std::numbers::pi / 180.0 / std::abs(shape.across);
    const FittedBase fitted = fit_two_arc(band(truth, v), truth.normal({0.0, v}), 0.02);
    EXPECT_LT(most_wrong_in_hole(fitted.base, truth, v), 1e-6);
    EXPECT_LT(fitted.spread, 1e-6);
}

INSTANTIATE_TEST_SUITE_P(
    Shapes, FittedBaseIsExact,
    testing::Values(Shape{"plane", 0, 0, 0}, Shape{"sphere", 1 / 750.0, 1 / 750.0, 0},
                    Shape{"cylinder", 0, 1 / 300.0, 0}, Shape{"hollow", -1 / 1200.0, -1 / 900.0, 0},
                    Shape{"saddle", 1 / 900.0, -1 / 700.0, 0},
                    Shape{"torus", 1 / 1500.0, 1 / 400.0, 0},
                    Shape{"torus", 1 / 1500.0, 1 / 400.0, 20},
                    Shape{"torus", 1 / 1500.0, 1 / 400.0, 45},
                    Shape{"torus", 1 / 1500.0, 1 / 400.0, 70}),
    [](const auto& test) {
        return std::string(test.param.name) + std::to_string(static_cast<int>(test.param.degrees));
    });

TEST(FittedBase, ForgetsOneInTwentyFarOff) {
    // 5 % of the points 5 to 50 mm off, all on one side: least squares alone would be over a
    // millimetre off.
    const TwoArc truth(turned(), origin, 1.0 / 1500.0, 1.0 / 400.0);
    auto points = band(truth, 0.0);
    std::mt19937 random(11);
    std::uniform_real_distribution<double> off(5.0, 50.0);
    for (std::size_t i = 0; i < points.size(); i += 20)
        points[i].at += off(random) * truth.normal(truth.foot(points[i].at).uv);
    const FittedBase fitted = fit_two_arc(points, truth.normal({0, 0}), 0.02);
    EXPECT_LT(most_wrong_in_hole(fitted.base, truth, 0.0), 1e-3);
}

TEST(FittedBase, ForgetsWhatStandsAtOneEnd) {
    // A tenth of the points, all at one end of the band and in line 120 mm before it, as of a
    // trestle's leg: least squares bends to them, and finds them near.
    const TwoArc truth(turned(), origin, 1.0 / 1500.0, 1.0 / 400.0);
    auto points = band(truth, 0.0);
    double least = 0.0;
    for (const WeighedPoint& point : points) least = std::min(least, truth.foot(point.at).uv.x());
    const double bound = 0.72 * least;
    std::size_t beyond = 0;
    for (WeighedPoint& point : points) {
        const auto foot = truth.foot(point.at);
        if (foot.uv.x() > bound) continue;
        point.at += 120.0 * truth.normal(foot.uv);
        ++beyond;
    }
    ASSERT_GT(beyond, points.size() / 20);
    ASSERT_LT(beyond, points.size() / 5);
    const FittedBase fitted = fit_two_arc(points, truth.normal({0, 0}), 0.02);
    EXPECT_LT(most_wrong_in_hole(fitted.base, truth, 0.0), 1e-3);
}

}  // namespace
}  // namespace tearline::scan::two_arc_test
