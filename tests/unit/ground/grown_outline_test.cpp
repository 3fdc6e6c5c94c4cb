#include "core/ground/grown_outline.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/base/outline.h"
#include "core/ground/corrected_soundings.h"
#include "tests/support/flat_plate.h"

namespace tearline::ground::grown_outline_test {
namespace {

/// A disc off the middle of a plate.
job::Job disc(double radius) {
    return test::disc_on_plate(radius, Vec3(30, -20, 0));
}

TEST(GrownOutline, OfADiscOnAPlaneIsTheDiscSoMuchLarger) {
    for (const double by : {0.0, 25.0}) {
        const auto points = grown_outline(disc(80.0), test::flat_plate(), by);
        ASSERT_TRUE(points) << points.error().message();
        for (const Vec3& p : *points) {
            EXPECT_NEAR((p - Vec3(30, -20, 0)).norm(), 80.0 + by, 0.05) << by;
            EXPECT_NEAR(p.z(), 0.0, 1e-6);
        }
        // Evenly along it, a point about each 8 mm, 48 at least.
        const double round = 2.0 * M_PI * (80.0 + by);
        const double count = std::max(48.0, std::ceil(round / 8.0));
        EXPECT_NEAR(static_cast<double>(points->size()), count, 1.0);
        for (std::size_t i = 0; i < points->size(); ++i) {
            const double step = ((*points)[(i + 1) % points->size()] - (*points)[i]).norm();
            EXPECT_NEAR(step, round / count, 0.02 * round / count);
        }
    }
}

TEST(CarriedTo, IsTheOutlineAndNothingElseThatSaysWhere) {
    job::Damage damage = disc(80.0).damage;
    damage.depth = 7.0;
    const job::Damage carried =
        carried_to(damage, {Vec3(0, 0, 0), Vec3(9, 0, 0), Vec3(0, 9, 0)}, 12.0);
    EXPECT_FALSE(carried.centre || carried.radius || carried.length || carried.height);
    EXPECT_EQ(carried.outline.size(), 3u);
    EXPECT_EQ(carried.join, job::Join::smooth);
    EXPECT_EQ(carried.carried, 12.0);
    EXPECT_EQ(carried.depth, 7.0);
}

/// A sounding at a place of the chart.
PlacedSounding sounding(double x, double depth) {
    PlacedSounding one;
    one.chart = Vec2(x, 0);
    one.sounding.depth = depth;
    return one;
}

TEST(OutlineIsFloor, IsSeenFromADepthOutsideItUnlessTheJobSays) {
    const Loop2 outline{{-10, -10}, {10, -10}, {10, 10}, {-10, 10}};
    job::Job job;
    EXPECT_FALSE(outline_is_floor(job, {sounding(0, 6), sounding(9, 2)}, outline));
    EXPECT_FALSE(outline_is_floor(job, {sounding(0, 6), sounding(30, 0)}, outline));
    EXPECT_TRUE(outline_is_floor(job, {sounding(0, 6), sounding(30, 2)}, outline));
    job.damage.round = job::Round::floor;
    EXPECT_TRUE(outline_is_floor(job, {sounding(0, 6)}, outline));
}

TEST(InAny, IsInsideOneOfThemAndOutsideItsHoles) {
    const std::vector<Region2> regions{
        {{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {{{4, 4}, {4, 6}, {6, 6}, {6, 4}}}},
        {{{20, 0}, {30, 0}, {30, 10}, {20, 10}}, {}}};
    EXPECT_TRUE(in_any(regions, {2, 2}));
    EXPECT_TRUE(in_any(regions, {25, 5}));
    EXPECT_FALSE(in_any(regions, {5, 5}));
    EXPECT_FALSE(in_any(regions, {15, 5}));
    EXPECT_FALSE(in_any({}, {5, 5}));
}

}  // namespace
}  // namespace tearline::ground::grown_outline_test
