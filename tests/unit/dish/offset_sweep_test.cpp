#include "core/dish/offset_sweep.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "core/dish/offset_distance.h"
#include "core/plane/clip_region.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"
#include "tests/support/loops.h"

namespace tearline::dish {
namespace {

using std::numbers::pi;

/// What a sweep's own front encloses at a distance, overlaps of its rays united [mm2 of the chart].
double area_at(const OffsetSweep& sweep, double offset) {
    const Region2 wide{{{-900, -900}, {900, -900}, {900, 900}, {-900, 900}}, {}};
    double sum = 0.0;
    for (const Region2& r :
         plane::united_inside({raw_front(sweep, sweep.fronts.front(), offset)}, wide))
        sum += area(r);
    return sum;
}

TEST(OffsetSweep, FrontsOfConvexOutlinesFollowSteinersFormula) {
    // Closed form in the plane: A + P d + pi d^2, for a pentagon, a flat triangle and a square.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(300), 300, 15);
    const std::vector<Loop2> shapes{{{-60, -40}, {50, -55}, {80, 10}, {10, 70}, {-70, 30}},
                                    {{-90, -10}, {90, -20}, {20, 15}},
                                    {{-50, -50}, {50, -50}, {50, 50}, {-50, 50}}};
    const std::vector<double> offsets{10.0, 45.0, 120.0};
    for (const Loop2& shape : shapes) {
        const auto outline = test::chart_outline(patch, test::polygon_curve(shape), 4);
        const auto sweep = sweep_offsets(patch, outline, offsets);
        EXPECT_EQ(sweep.fronts.size(), 1u);
        for (const double d : offsets) {
            const double steiner = signed_area(shape) + perimeter(shape) * d + pi * d * d;
            // Chords between rays stay within 0.01 mm of the arcs.
            EXPECT_NEAR(area_at(sweep, d), steiner, 0.011 * (perimeter(shape) + 2 * pi * d)) << d;
        }
    }
}

TEST(OffsetSweep, FrontsOfADiscOnABallAreItsParallels) {
    // Closed form: the chart's radius is the distance from the pole, so that fronts are circles of
    // radius r + d in the chart, whatever the ball does to their length.
    for (const double R : {400.0, -250.0}) {
        const auto patch =
            test::analytic_patch(test::sphere_map(R), test::within_disc(260), 260, 10);
        const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 80), 90);
        const std::vector<double> offsets{30.0, 110.0};
        const auto sweep = sweep_offsets(patch, outline, offsets);
        for (const double d : offsets)
            for (const Vec2& p : raw_front(sweep, sweep.fronts.front(), d))
                EXPECT_NEAR(p.norm(), 80 + d, 0.02) << R;
    }
}

TEST(OffsetSweep, HasEveryOffsetAsAStationAndRaysCloseTogether) {
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(260), 260, 12);
    const auto outline = test::chart_outline(patch, test::circle_curve({10, -5}, 60), 60);
    const std::vector<double> offsets{0.0, 13.7, 90.0, 141.0};
    const SweepOptions options;
    const auto sweep = sweep_offsets(patch, outline, offsets, options);
    for (const double d : offsets)
        EXPECT_NE(std::find(sweep.stations.begin(), sweep.stations.end(), d), sweep.stations.end());
    for (std::size_t i = 0; i + 1 < sweep.stations.size(); ++i) {
        EXPECT_LT(sweep.stations[i], sweep.stations[i + 1]);
        EXPECT_LE(sweep.stations[i + 1] - sweep.stations[i], options.station_step + 1e-9);
    }
    const auto& rays = sweep.fronts.front().rays;
    EXPECT_TRUE(sweep.fronts.front().closed);
    for (std::size_t i = 0; i < rays.size(); ++i) {
        EXPECT_LE((rays[i].end - rays[(i + 1) % rays.size()].end).norm(), options.spacing + 0.01);
        // Straight in the plane: every station lies its distance along the ray.
        for (std::size_t k = 0; k < rays[i].point.size(); ++k)
            EXPECT_NEAR((rays[i].point[k] - rays[i].point[0]).norm(), sweep.stations[k], 1e-3);
    }
}

TEST(OffsetDistance, IsThatOfThePlaneFromAnyOutline) {
    // Second route: the distance from the outline point by point. Shaken polygons, hollow ones
    // among them.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(320), 320, 14);
    std::mt19937 random(777);  // fixed start value
    std::uniform_real_distribution<double> shake(0.75, 1.25), across(-210.0, 210.0);
    const std::vector<double> offsets{110.0};
    for (int k = 0; k < 3; ++k) {
        Loop2 shape;
        for (int i = 0; i < 9; ++i) {
            const double a = 2 * pi * i / 9;
            shape.emplace_back(75 * shake(random) * Vec2(std::cos(a), std::sin(a)));
        }
        const auto outline = test::chart_outline(patch, test::polygon_curve(shape), 3);
        const OffsetDistance distance(sweep_offsets(patch, outline, offsets));
        for (int i = 0; i < 500; ++i) {
            const Vec2 p(across(random), across(random));
            const double exact = contains(shape, p) ? 0.0 : test::distance_to(shape, p);
            if (exact > 109.5) continue;
            EXPECT_NEAR(distance.at(p), exact, 0.03) << k << " " << p.transpose();
        }
    }
}

}  // namespace
}  // namespace tearline::dish
