#include <gtest/gtest.h>

#include <random>

#include "core/dish/offset_distance.h"
#include "core/plies/net_region.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"
#include "tests/support/loops.h"
#include "tests/support/region_checks.h"

namespace tearline::plies {
namespace {

using std::numbers::pi;

TEST(NetRegionShapes, OnATightBilgeIsThatOfTheDevelopment) {
    // Flat - quarter turn of 40 mm - flat: the chart is its development, the offset of a disc a
    // disc.
    const auto patch =
        test::analytic_patch([](const Vec2& p, int) { return test::bilge_map(40.0, p); },
                             test::within_box(330, 330), 330, 9);
    const auto outline = test::chart_outline(patch, test::circle_curve({-20, 0}, 80), 120);
    const std::vector<double> offsets{25.0, 150.0};
    const auto regions = net_regions(patch, outline, offsets);
    ASSERT_TRUE(regions) << regions.error().message();
    for (std::size_t k = 0; k < 2; ++k) {
        ASSERT_EQ((*regions)[k].chart.size(), 1u);
        for (const Vec2& p : (*regions)[k].chart[0].outer)
            EXPECT_NEAR((p - Vec2(-20, 0)).norm(), 80 + offsets[k], 0.1);
    }
}

TEST(NetRegionShapes, BehindAnOpeningIsTheGeodesicShadow) {
    // Round opening of radius 30 in the plane: the reach behind it by tangent - arc - tangent.
    const double a = 30.0;
    const auto inside = [&](const Vec2& p) { return p.norm() <= 330 && p.norm() >= a; };
    const auto patch = test::analytic_patch(test::plane_map, inside, 330, 6, false, true);
    double rim = 0.0;
    for (const Vec2& p : patch.domain().holes.at(0)) rim = std::max(rim, p.norm());
    const Vec2 centre(-120, 0);
    const auto outline = test::chart_outline(patch, test::circle_curve(centre, 40), 60);
    const std::vector<double> offsets{20.0, 140.0};
    const auto regions = net_regions(patch, outline, offsets);
    ASSERT_TRUE(regions) << regions.error().message();
    EXPECT_FALSE((*regions)[0].cut_at_hull_end);
    const NetRegion& region = (*regions)[1];
    EXPECT_TRUE(region.cut_at_hull_end);
    ASSERT_EQ(region.chart.size(), 1u);
    ASSERT_EQ(region.chart[0].holes.size(), 1u);  // the opening
    const auto round = [&](const Vec2& p, double radius) {
        const double d1 = centre.norm(), d2 = p.norm();
        const double angle = std::acos(centre.dot(p) / (d1 * d2));
        const double arc = angle - std::acos(radius / d1) - std::acos(std::min(1.0, radius / d2));
        if (arc <= 0.0) return (p - centre).norm() - 40.0;
        return std::sqrt(d1 * d1 - radius * radius) +
               std::sqrt(std::max(0.0, d2 * d2 - radius * radius)) + radius * arc - 40.0;
    };
    int behind = 0;
    for (const Vec2& p : region.chart[0].outer) {
        EXPECT_GE(140.0, round(p, a) - 0.1) << p.transpose();
        EXPECT_LE(140.0, round(p, rim) + 0.1) << p.transpose();
        if ((p - centre).norm() - 40.0 < 139.9) ++behind;
    }
    EXPECT_GT(behind, 5);
}

TEST(NetRegionShapes, AreCutByANotchInTheHullsEnd) {
    // A hull's end with a deep notch above a bar of damage.
    const auto inside = [](const Vec2& p) {
        return p.norm() <= 300 && !(std::abs(p.x()) < 40 && p.y() > -5);
    };
    const auto patch = test::analytic_patch(test::plane_map, inside, 300, 6, false, true);
    const auto outline = test::chart_outline(
        patch, test::polygon_curve({{-120, -60}, {120, -60}, {120, -20}, {-120, -20}}), 1);
    const std::vector<double> offsets{10.0, 60.0};
    const auto regions = net_regions(patch, outline, offsets);
    ASSERT_TRUE(regions) << regions.error().message();
    ASSERT_EQ((*regions)[1].chart.size(), 1u);
    // By hand: bar + 60 mm with round corners, less the notch's part of it (80 mm wide; its lower
    // edge is where the mesh ends, between -5 and -11).
    const double whole = 240 * 40 + 2 * 280 * 60 + pi * 3600;
    EXPECT_LT(test::area_of((*regions)[1].chart), whole - 80 * 45 + 5);
    EXPECT_GT(test::area_of((*regions)[1].chart), whole - 93 * 51 - 5);
}

TEST(NetRegionShapes, EachLiesInsideTheNextOnAWavySurface) {
    // A surface without symmetry: height sum of sines; its graph's plane coordinates are the chart
    // (not isometric: slopes to 0.25), which only makes the test harder.
    const test::AnalyticMap wavy = [](const Vec2& p, int) {
        const double x = p.x() / 60, y = p.y() / 80;
        const double z = 9 * std::sin(x) * std::cos(y) + 5 * std::cos(0.7 * x + y);
        const double zx = (9 * std::cos(x) * std::cos(y) - 3.5 * std::sin(0.7 * x + y)) / 60;
        const double zy = (-9 * std::sin(x) * std::sin(y) - 5 * std::sin(0.7 * x + y)) / 80;
        return surface::SurfaceSample{
            {p.x(), p.y(), z}, Vec3(-zx, -zy, 1).normalized(), -0.003, 0.003};
    };
    const auto patch = test::analytic_patch(wavy, test::within_disc(330), 330, 9);
    const unsigned start = 20240611;
    std::mt19937 random(start);
    std::uniform_real_distribution<double> radius(40.0, 110.0), shift(-40.0, 40.0);
    for (int round = 0; round < 8; ++round) {
        // A random star of 12 arms: concave corners, so that fronts cross.
        Loop2 star;
        const Vec2 centre(shift(random), shift(random));
        for (int i = 0; i < 12; ++i) {
            const double a = 2 * pi * i / 12, r = radius(random);
            star.push_back(centre + r * Vec2(std::cos(a), std::sin(a)));
        }
        const auto outline = test::chart_outline(patch, test::polygon_curve(star), 12);
        const std::vector<double> offsets{0.0, 3.0, 12.0, 25.0, 60.0, 120.0};
        const auto regions = net_regions(patch, outline, offsets);
        ASSERT_TRUE(regions) << regions.error().message() << " start " << start;
        for (std::size_t k = 0; k + 1 < offsets.size(); ++k) {
            const auto& outer = (*regions)[k + 1].chart;
            ASSERT_EQ(outer.size(), 1u) << "start " << start << " round " << round;
            const double step = offsets[k + 1] - offsets[k];
            for (const Vec2& p : (*regions)[k].chart[0].outer)
                EXPECT_TRUE(contains(outer[0], p)) << "start " << start << " round " << round;
            // And every point of the wider edge is one step off the narrower; the chart
            // foreshortens slopes of up to 0.35 by at most 6 %.
            for (const Vec2& p : outer[0].outer) {
                const double apart = test::distance_to((*regions)[k].chart[0].outer, p);
                EXPECT_LT(apart, step + 0.05) << "start " << start << " round " << round;
                EXPECT_GT(apart, 0.93 * step - 0.05) << "start " << start << " round " << round;
            }
        }
    }
}

TEST(NetRegionShapes, DoNotDependOnWhereTheHullLies) {
    // A rigid motion of the surface, the chart the same: the same outlines, moved.
    const Eigen::AngleAxisd turn(1.1, Vec3(1, 2, 3).normalized());
    const Vec3 shift(5000, -3000, 800);
    const auto still = test::sphere_map(400);
    const test::AnalyticMap moved = [&](const Vec2& p, int side) {
        auto s = still(p, side);
        s.position = turn * s.position + shift;
        s.normal = turn * s.normal;
        return s;
    };
    const auto a = test::analytic_patch(still, test::within_disc(240), 240, 11);
    const auto b = test::analytic_patch(moved, test::within_disc(240), 240, 11);
    const test::ChartCurve square =
        test::polygon_curve({{-60, -50}, {60, -50}, {60, 50}, {-60, 50}});
    const std::vector<double> offsets{100.0};
    const auto ra = net_regions(a, test::chart_outline(a, square, 20), offsets);
    const auto rb = net_regions(b, test::chart_outline(b, square, 20), offsets);
    ASSERT_TRUE(ra && rb);
    EXPECT_NEAR(test::area_of((*ra)[0].chart), test::area_of((*rb)[0].chart), 0.1);
    for (const Vec3& p : (*ra)[0].on_base[0].outer) {
        double best = 1e300;
        const Loop3& loop = (*rb)[0].on_base[0].outer;
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec3 q = turn * p + shift, u = loop[(i + 1) % loop.size()] - loop[i];
            const double t = std::clamp((q - loop[i]).dot(u) / u.squaredNorm(), 0.0, 1.0);
            best = std::min(best, (q - loop[i] - t * u).norm());
        }
        EXPECT_LT(best, 0.02);
    }
}

TEST(OffsetDistance, IsTheDistanceAtEveryVertex) {
    const auto patch = test::analytic_patch(test::sphere_map(500), test::within_disc(300), 300, 12);
    const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 100), 120);
    const auto sweep = dish::sweep_offsets(patch, outline, std::array{150.0});
    const dish::OffsetDistance distance(sweep);
    for (const Vec2& p : patch.chart) {
        const double r = p.norm();
        if (r > 250.5) {
            EXPECT_FALSE(distance.reached(p));
        } else if (r < 249.5) {
            EXPECT_NEAR(distance.reached(p).value(), std::max(0.0, r - 100.0), 0.05);
        }
    }
}

}  // namespace
}  // namespace tearline::plies
