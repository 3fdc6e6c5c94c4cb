#include "core/damage/straight_way.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "core/damage/follow_surface.h"
#include "core/damage/foot.h"
#include "core/plane/crossings.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/loops.h"

namespace tearline::damage {
namespace {

surface::Location at(const surface::Patch& patch, const Vec2& chart) {
    return *patch.locate(chart);
}

TEST(StraightWay, IsTheGreatCircleBetweenTwoPlaces) {
    // Closed form: R times the angle between the normals; every point of the way lies in the plane
    // of both, evenly spaced, with unit directions square to the normal.
    const double R = 200.0;
    const auto patch = test::analytic_patch(test::sphere_map(R), test::within_disc(150), 150, 6);
    const auto exact = test::sphere_map(R);
    for (const auto& [a, b] :
         {std::pair(Vec2(-80, 10), Vec2(70, 90)), {Vec2(5, -120), Vec2(0, 60)}}) {
        const auto way = straight_way(patch, at(patch, a), at(patch, b), 12.0);
        ASSERT_TRUE(way);
        const Vec3 na = exact(a, 1).normal, nb = exact(b, 1).normal;
        const double angle = std::atan2(na.cross(nb).norm(), na.dot(nb));
        EXPECT_NEAR(way->length, R * angle, 0.02);
        ASSERT_EQ(way->at.size(), way->direction.size());
        EXPECT_EQ(way->at.size(), 1 + static_cast<std::size_t>(std::ceil(way->length / 12.0)));
        const Vec3 square = na.cross(nb).normalized();
        for (std::size_t i = 0; i < way->at.size(); ++i) {
            const auto sample = patch.sample(way->at[i]);
            EXPECT_NEAR(R * sample.normal.dot(square), 0.0, 0.05) << i;
            const double turned = std::acos(std::min(1.0, na.dot(sample.normal)));
            EXPECT_NEAR(R * turned, way->length * static_cast<double>(i) / (way->at.size() - 1.0),
                        0.05);
            EXPECT_NEAR(way->direction[i].norm(), 1.0, 1e-9);
            EXPECT_NEAR(way->direction[i].dot(square.cross(sample.normal)), 1.0, 1e-3);
        }
        EXPECT_LT((patch.chart_point(way->at.front()) - a).norm(), 1e-9);
        EXPECT_LT((patch.chart_point(way->at.back()) - b).norm(), 1e-9);
    }
}

TEST(StraightWay, CrossesACreaseAsTheUnfoldedLine) {
    const auto patch =
        test::analytic_patch(test::wedge_map(1.1), test::within_box(120, 120), 140, 9, true);
    const Vec2 a(-70, -30), b(80, 55);
    const auto way = straight_way(patch, at(patch, a), at(patch, b), 10.0);
    ASSERT_TRUE(way);
    EXPECT_NEAR(way->length, (b - a).norm(), 1e-3);
    for (const auto& place : way->at) {
        const Vec2 p = patch.chart_point(place);
        EXPECT_NEAR(cross2((b - a).normalized(), p - a), 0.0, 1e-3);
    }
}

TEST(StraightWay, IsTheSameThereAndBack) {
    const auto patch =
        test::analytic_patch(test::pseudosphere_map(150), test::within_disc(100), 100, 5);
    const auto there = straight_way(patch, at(patch, {-60, 20}), at(patch, {50, -45}), 20.0);
    const auto back = straight_way(patch, at(patch, {50, -45}), at(patch, {-60, 20}), 20.0);
    ASSERT_TRUE(there);
    ASSERT_TRUE(back);
    EXPECT_NEAR(there->length, back->length, 1e-3);
    EXPECT_NEAR(there->direction.front().dot(back->direction.back()), -1.0, 1e-4);
}

TEST(StraightWay, IsNoneAcrossAnOpening) {
    const auto patch = test::analytic_patch(
        test::plane_map, [](const Vec2& p) { return p.norm() <= 120 && p.norm() >= 40; }, 120, 6);
    EXPECT_FALSE(straight_way(patch, at(patch, {-100, 0}), at(patch, {100, 5}), 10.0));
    EXPECT_TRUE(straight_way(patch, at(patch, {-100, 10}), at(patch, {0, 100}), 10.0));
    const auto here = at(patch, {60, 60});
    EXPECT_FALSE(straight_way(patch, here, here, 10.0)) << "no way from a place to itself";
}

TEST(FootOf, IsUnderThePointAlongTheNormal) {
    // Closed form: on a ball the foot lies on the ray from the centre, whatever the height.
    const double R = 120.0;
    const auto patch = test::analytic_patch(test::sphere_map(R), test::within_disc(90), 90, 7);
    std::mt19937 random(12);  // fixed start value
    std::uniform_real_distribution<double> across(-55.0, 55.0), height(-15.0, 15.0);
    for (int k = 0; k < 60; ++k) {
        const auto exact = test::sphere_map(R)(Vec2(across(random), across(random)), 1);
        const double h = height(random);
        const Foot foot = foot_of(patch, exact.position + h * exact.normal);
        EXPECT_LT((foot.sample.position - exact.position).norm(), 1e-3) << k;
        EXPECT_NEAR(foot.distance, std::abs(h), 1e-4);
        EXPECT_FALSE(foot.over_rim);
        EXPECT_FALSE(foot.over_hull_end);
    }
}

TEST(FootOf, SaysWhetherItLiesOverTheRim) {
    // A point beside a flat patch has no foot: its nearest place is the rim, which is the hull's
    // own end or where the patch was cropped.
    const auto cropped = test::analytic_patch(test::plane_map, test::within_box(50, 50), 60, 10);
    const auto ended =
        test::analytic_patch(test::plane_map, test::within_box(50, 50), 60, 10, false, true);
    for (const auto* patch : {&cropped, &ended}) {
        const Foot beside = foot_of(*patch, {0, 62, 5});
        EXPECT_TRUE(beside.over_rim);
        EXPECT_EQ(beside.over_hull_end, patch == &ended);
        EXPECT_NEAR(beside.distance, 13.0, 1e-9);  // 12 beyond and 5 above, by hand
        EXPECT_FALSE(foot_of(*patch, {3, 4, 5}).over_rim);
    }
}

std::vector<OutlinePoint> corners_on(const surface::Patch& patch, const Loop2& corners) {
    std::vector<OutlinePoint> out;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Vec2 before = corners[(i + corners.size() - 1) % corners.size()],
                   after = corners[(i + 1) % corners.size()];
        const auto along = [&](const Vec2& from, const Vec2& to, double share) {
            const Vec2 p = from + share * (to - from), h = 1e-4 * (to - from);
            return Vec3(
                (patch.sample(at(patch, p + h)).position - patch.sample(at(patch, p - h)).position)
                    .normalized());
        };
        OutlinePoint point;
        point.at = at(patch, corners[i]);
        point.position = patch.sample(point.at).position;
        point.tangent_in = along(before, corners[i], 0.999);
        point.tangent_out = along(corners[i], after, 0.001);
        out.push_back(point);
    }
    return out;
}

TEST(FollowSurface, KeepsChordsOnTheSurfaceOverACrease) {
    // A square across a right-angled crease: from corner to corner straight in the chart. The chord
    // between two points of the answer leaves the surface by 0.01 mm at most, by its own middle's
    // height under the roof, and is no longer than 5 mm.
    const auto patch =
        test::analytic_patch(test::wedge_map(1.57), test::within_box(80, 80), 90, 9, true);
    const Loop2 square{{-40, -30}, {35, -30}, {35, 42}, {-40, 42}};
    const auto points = corners_on(patch, square);
    const auto followed = follow_surface(patch, points);
    double length = 0.0;
    std::size_t corner = 0;
    for (std::size_t i = 0; i < followed.size(); ++i) {
        const Vec3 &a = followed[i].position, &b = followed[(i + 1) % followed.size()].position;
        EXPECT_LE((b - a).norm(), 5.0 + 1e-9);
        EXPECT_LT(patch.nearest(0.5 * (a + b)).distance, 0.0101);
        EXPECT_NEAR(test::distance_to(square, patch.chart_point(followed[i].at)), 0.0, 0.01);
        EXPECT_NEAR(followed[i].tangent_out.norm(), 1.0, 1e-9);
        length += (b - a).norm();
        if (corner < points.size() && a == points[corner].position) ++corner;
    }
    EXPECT_EQ(corner, points.size()) << "the corners stand in their order";
    EXPECT_NEAR(length, 2 * (75 + 72), 0.05);
}

TEST(FollowSurface, BendsWithTheTangentsBetweenItsPoints) {
    // By hand: a Hermite cubic from (40, 0), upward, to (0, 40), leftward, its tangents as long as
    // the chord of 40 sqrt(2), passes (20, 20) + (up - left) x 40 sqrt(2) / 8 half way.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(80), 80, 8);
    std::vector<OutlinePoint> points;
    for (int i = 0; i < 4; ++i) {
        const double a = std::numbers::pi / 2 * i;
        OutlinePoint point;
        point.at = at(patch, 40 * Vec2(std::cos(a), std::sin(a)));
        point.position = patch.sample(point.at).position;
        point.tangent_in = point.tangent_out = Vec3(-std::sin(a), std::cos(a), 0);
        points.push_back(point);
    }
    const auto followed = follow_surface(patch, points);
    const double middle = 20.0 + 40.0 * std::sqrt(2.0) / 8.0;
    double nearest = 1e9;
    for (const OutlinePoint& p : followed)
        nearest = std::min(nearest, (p.position.head<2>() - Vec2(middle, middle)).norm());
    EXPECT_LT(nearest, 1e-6);
    EXPECT_GT(followed.size(), 40u);
}

TEST(SelfCrossing, AgreesWithEveryPairOfEdges) {
    // Second route: shares along both segments, all pairs. The first edge that is crossed is named.
    std::mt19937 random(505);  // fixed start value
    std::uniform_real_distribution<double> shake(-0.45, 0.45);
    int crossed = 0;
    for (int k = 0; k < 300; ++k) {
        Loop2 loop;
        for (int i = 0; i < 14; ++i) {
            const double a = 2 * std::numbers::pi * (i + 1.6 * shake(random)) / 14;
            loop.emplace_back(30 * (1 + shake(random)) * Vec2(std::cos(a), std::sin(a)));
        }
        std::optional<std::size_t> expected;
        for (std::size_t i = 0; i < loop.size() && !expected; ++i)
            for (std::size_t j = i + 2; j < loop.size(); ++j) {
                if (i == 0 && j + 1 == loop.size()) continue;
                const Vec2 &a = loop[i], &c = loop[j];
                const Vec2 u = loop[i + 1] - a, v = loop[(j + 1) % loop.size()] - c;
                const double s = cross2(c - a, v) / cross2(u, v),
                             t = cross2(c - a, u) / cross2(u, v);
                if (s > 0 && s < 1 && t > 0 && t < 1) expected = i;
            }
        EXPECT_EQ(plane::first_side_crossed({loop, {}}), expected) << k;
        crossed += expected ? 1 : 0;
    }
    EXPECT_GT(crossed, 10);
    EXPECT_LT(crossed, 290);
}

}  // namespace
}  // namespace tearline::damage
