#include "core/damage/flat_frame.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/analytic_patch.h"

namespace tearline::damage {
namespace {

/// An outline on a patch whose chart is the plan view of the picked loop.
DamageOutline outline_of(const surface::Patch& patch, const Loop2& loop) {
    DamageOutline outline;
    for (const Vec2& p : loop) {
        const auto at = patch.locate(p);
        EXPECT_TRUE(at.has_value());
        outline.points.push_back({*at, patch.sample(*at).position, Vec3::UnitX(), Vec3::UnitX()});
        outline.chart.push_back(p);
    }
    return outline;
}

const surface::Patch& plane() {
    static const surface::Patch patch =
        test::analytic_patch(test::plane_map, test::within_box(210, 210), 220, 10);
    return patch;
}

TEST(FlatFrame, IsAtTheAreaCentroidOfATriangle) {
    // Closed form: a triangle's centroid is the mean of its corners.
    const auto frame = flat_frame(plane(), outline_of(plane(), {{-90, -60}, {150, -30}, {0, 120}}),
                                  Vec3::UnitX(), Vec3::UnitY());
    EXPECT_NEAR(frame.middle.x(), 20.0, 1e-9);
    EXPECT_NEAR(frame.middle.y(), 10.0, 1e-9);
    EXPECT_TRUE(frame.x_is_bow);
    EXPECT_FALSE(frame.up_is_near_normal);
    EXPECT_NEAR((frame.x - Vec3::UnitX()).norm(), 0.0, 1e-12);
    EXPECT_NEAR((frame.y - Vec3::UnitY()).norm(), 0.0, 1e-12);
}

TEST(FlatFrame, FallsToTheInnermostPointOfAHorseshoe) {
    // Closed form: three bars 40 wide. The centroid (0, -18.5) lies in the gap; the largest circle
    // inside touches both outer edges and the inner corner of a bend: r = sqrt(2) (40 - r).
    const Loop2 horseshoe{{-100, -100}, {100, -100}, {100, 100}, {60, 100},
                          {60, -60},    {-60, -60},  {-60, 100}, {-100, 100}};
    const double expected = 40.0 * std::numbers::sqrt2 / (1.0 + std::numbers::sqrt2);
    const auto frame =
        flat_frame(plane(), outline_of(plane(), horseshoe), Vec3::UnitX(), Vec3::UnitY());
    ASSERT_TRUE(contains(horseshoe, frame.chart));
    double nearest = 1e9;
    for (std::size_t i = 0; i < horseshoe.size(); ++i) {
        const Vec2 a = horseshoe[i], ab = horseshoe[(i + 1) % horseshoe.size()] - a;
        const double s = std::clamp((frame.chart - a).dot(ab) / ab.squaredNorm(), 0.0, 1.0);
        nearest = std::min(nearest, (frame.chart - a - s * ab).norm());
    }
    EXPECT_NEAR(nearest, expected, 0.1);
}

TEST(FlatFrame, TakesStarboardForXOnATransom) {
    // A transom looks aft: the bow direction is its inward normal. Starboard = bow x up.
    const Vec3 bow = -Vec3::UnitZ(), up = Vec3::UnitY();
    const auto frame = flat_frame(
        plane(), outline_of(plane(), {{-50, -50}, {50, -50}, {50, 50}, {-50, 50}}), bow, up);
    EXPECT_FALSE(frame.x_is_bow);
    EXPECT_NEAR((frame.x - bow.cross(up)).norm(), 0.0, 1e-12);
    EXPECT_NEAR((frame.y - frame.normal.cross(frame.x)).norm(), 0.0, 1e-12);
}

TEST(FlatFrame, SaysWhenUpIsNearTheNormal) {
    const auto frame =
        flat_frame(plane(), outline_of(plane(), {{-50, -50}, {50, -50}, {50, 50}, {-50, 50}}),
                   Vec3::UnitX(), Vec3::UnitZ());
    EXPECT_TRUE(frame.up_is_near_normal);
}

TEST(FlatFrame, LiesInTheTangentPlaneOfASphere) {
    const auto patch = test::analytic_patch(test::sphere_map(600), test::within_disc(210), 220, 10);
    const auto frame =
        flat_frame(patch, outline_of(patch, {{60, 40}, {140, 40}, {140, 120}, {60, 120}}),
                   Vec3::UnitX(), Vec3::UnitY());
    // Second route: the sphere's own normal at the middle.
    const Vec3 normal = (frame.middle - Vec3(0, 0, -600)).normalized();
    EXPECT_NEAR((frame.normal - normal).norm(), 0.0, 1e-9);
    EXPECT_NEAR(frame.x.dot(normal), 0.0, 1e-12);
    EXPECT_NEAR(frame.x.norm(), 1.0, 1e-12);
    EXPECT_GT(frame.x.x(), 0.9);
}

}  // namespace
}  // namespace tearline::damage
