#include "core/surface/taut_way.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "core/surface/locate_near.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/steiner_distance.h"

namespace tearline::surface {
namespace {

double length_of(const std::vector<Stretch>& way) {
    double length = 0.0;
    for (const Stretch& stretch : way) length += stretch.length;
    return length;
}

/// Every stretch begins where the one before ended.
void expect_joined(const Patch& patch, const std::vector<Stretch>& way, const Location& from,
                   const Location& to) {
    Vec3 at = patch.sample(from).position;
    for (const Stretch& stretch : way) {
        EXPECT_LT((patch.sample({stretch.triangle, stretch.from}).position - at).norm(), 1e-6);
        at = patch.sample({stretch.triangle, stretch.to}).position;
    }
    EXPECT_LT((patch.sample(to).position - at).norm(), 1e-6);
}

/// Points of the chart's middle part, at random.
class Places {
public:
    explicit Places(double reach) : along_(-reach, reach) {}
    Location on(const Patch& patch) { return *patch.locate({along_(random_), along_(random_)}); }

private:
    std::mt19937 random_{7};  // fixed start value
    std::uniform_real_distribution<double> along_;
};

TEST(TautWay, IsTheStraightLineWhereTheChartIsTheSurfaceUnrolled) {
    // Closed form: the distance in the development, over a crease too, from vertices too.
    for (const double turn : {0.0, 0.8, -1.5}) {
        const Patch patch =
            test::analytic_patch(test::wedge_map(turn), test::within_box(150, 150), 160, 9, true);
        Places places(140);
        for (int k = 0; k < 60; ++k) {
            const Location from =
                k % 3 == 0 ? *patch.locate(patch.chart[patch.chart.size() / 2]) : places.on(patch);
            const Location to = places.on(patch);
            const auto way = taut_way(patch, from, to);
            ASSERT_TRUE(way) << k;
            const double straight = (patch.chart_point(to) - patch.chart_point(from)).norm();
            EXPECT_NEAR(length_of(*way), straight, 1e-6) << k;
            expect_joined(patch, *way, from, to);
        }
    }
}

TEST(TautWay, IsTheGreatCircleOnABall) {
    // Closed form: R times the angle between the normals.
    const double R = 200.0;
    const Patch patch = test::analytic_patch(test::sphere_map(R), test::within_disc(150), 150, 6);
    Places places(90);
    for (int k = 0; k < 40; ++k) {
        const Location from = places.on(patch), to = places.on(patch);
        const auto way = taut_way(patch, from, to);
        ASSERT_TRUE(way) << k;
        const Vec3 a = patch.sample(from).normal, b = patch.sample(to).normal;
        EXPECT_NEAR(length_of(*way), R * std::atan2(a.cross(b).norm(), a.dot(b)), 0.02) << k;
        expect_joined(patch, *way, from, to);
    }
}

TEST(TautWay, IsTheStraightWayOfASaddle) {
    // Closed form of the hyperbolic plane, u along the waist and v from it in shares of R:
    // cosh d = cosh v1 cosh v2 cosh(u1 - u2) - sinh v1 sinh v2. On the facets themselves no way
    // over places of the edges is shorter (Dijkstra, a second route), and there is one there and
    // back: rays from either end part behind the vertices between.
    const double R = 60.0;
    const Patch patch =
        test::analytic_patch(test::pseudosphere_map(R), test::within_box(80, 45), 90, 5);
    Places places(42);
    for (int k = 0; k < 40; ++k) {
        const Location from = places.on(patch), to = places.on(patch);
        const auto way = taut_way(patch, from, to), back = taut_way(patch, to, from);
        ASSERT_TRUE(way && back) << k;
        const double length = length_of(*way);
        const Vec2 a = patch.chart_point(from) / R, b = patch.chart_point(to) / R;
        const double exact =
            R * std::acosh(std::cosh(a.y()) * std::cosh(b.y()) * std::cosh(a.x() - b.x()) -
                           std::sinh(a.y()) * std::sinh(b.y()));
        EXPECT_NEAR(length, exact, 2e-3 * exact) << k;
        EXPECT_NEAR(length, length_of(*back), 1e-6) << k;
        EXPECT_LE(length, test::steiner_distance(patch, from, to, 5) + 1e-9) << k;
        expect_joined(patch, *way, from, to);
    }
}

TEST(TautWay, IsNoneWhereTheRimHoldsItOrForOnePlace) {
    const Patch patch = test::analytic_patch(
        test::plane_map, [](const Vec2& p) { return p.norm() <= 120 && p.norm() >= 40; }, 120, 6);
    EXPECT_FALSE(taut_way(patch, *patch.locate({-100, 0}), *patch.locate({100, 5})));
    EXPECT_TRUE(taut_way(patch, *patch.locate({-100, 10}), *patch.locate({0, 100})));
    const Location here = *patch.locate({60, 60});
    EXPECT_FALSE(taut_way(patch, here, here));
}

}  // namespace
}  // namespace tearline::surface
