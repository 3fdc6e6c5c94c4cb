#include "core/damage/flat_frame.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/analytic_patch.h"

namespace tearline::damage::flat_frame_test {
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
    EXPECT_TRUE(frame.axis_from_is_bow);
    EXPECT_TRUE(frame.y_is_up);
    EXPECT_NEAR((frame.axis_from - Vec3::UnitX()).norm(), 0.0, 1e-12);
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

TEST(FlatFrame, CountsAxesFromStarboardOnATransom) {
    // A transom looks aft: the bow direction is its inward normal. Starboard = bow x up.
    const Vec3 bow = -Vec3::UnitZ(), up = Vec3::UnitY();
    const auto frame = flat_frame(
        plane(), outline_of(plane(), {{-50, -50}, {50, -50}, {50, 50}, {-50, 50}}), bow, up);
    EXPECT_FALSE(frame.axis_from_is_bow);
    EXPECT_NEAR((frame.axis_from - bow.cross(up)).norm(), 0.0, 1e-12);
    EXPECT_NEAR((frame.y - up).norm(), 0.0, 1e-12);
    EXPECT_NEAR((frame.x - bow.cross(up)).norm(), 0.0, 1e-12);
}

TEST(FlatFrame, UpPointsToTheTopAndTheBowDoesOnABottom) {
    // By hand from the definition: the plane's normal is z, up leans 29 or 31 degrees from its
    // line, either way; the bow is y, square to both.
    const Loop2 square = {{-50, -50}, {50, -50}, {50, 50}, {-50, 50}};
    for (const double away : {29.0, 31.0})
        for (const double side : {1.0, -1.0}) {
            const double a = away * std::numbers::pi / 180.0;
            const Vec3 up(std::sin(a), 0.0, side * std::cos(a));
            const auto frame = flat_frame(plane(), outline_of(plane(), square), Vec3::UnitY(), up);
            EXPECT_EQ(frame.y_is_up, away > 30.0);
            const Vec3 top = away > 30.0 ? Vec3::UnitX() : Vec3::UnitY();
            EXPECT_NEAR((frame.y - top).norm(), 0.0, 1e-12);
            EXPECT_NEAR((frame.x - top.cross(Vec3::UnitZ())).norm(), 0.0, 1e-12);
            EXPECT_NEAR((frame.axis_from - Vec3::UnitY()).norm(), 0.0, 1e-12);
            EXPECT_NEAR(std::abs(axis_from_degrees(frame)), away > 30.0 ? 180.0 : 90.0, 1e-9);
        }
}

TEST(FlatFrame, AxesRunCounterClockwiseFromTheBowSeenFromTheLayingSide) {
    // By hand: looking at the plane from +z with the bow to the right, 90 degrees is +y.
    const Loop2 square = {{-50, -50}, {50, -50}, {50, 50}, {-50, 50}};
    const auto frame =
        flat_frame(plane(), outline_of(plane(), square), Vec3::UnitX(), Vec3(0.0, -1.0, 0.0));
    EXPECT_NEAR((frame.axis_from - Vec3::UnitX()).norm(), 0.0, 1e-12);
    EXPECT_NEAR((frame.normal.cross(frame.axis_from) - Vec3::UnitY()).norm(), 0.0, 1e-12);
    EXPECT_NEAR(std::abs(axis_from_degrees(frame)), 180.0, 1e-9);  // up is -y: the bow to the left
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
    EXPECT_GT(frame.y.y(), 0.9);
    EXPECT_GT(frame.axis_from.x(), 0.9);
}

}  // namespace
}  // namespace tearline::damage::flat_frame_test
