#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "core/damage/damage_outline.h"
#include "tests/support/analytic_patch.h"

/// Outlines that run off the hull's end. Expected areas are closed forms of the plane: segments of
/// circles and ellipses, rectangles, triangles.
namespace tearline::damage::hull_end_test {
namespace {

using std::numbers::pi;
const Vec3 bow = Vec3::UnitX(), up = Vec3::UnitY();

/// A plane whose edge runs straight along x = `end_x`.
constexpr double end_x = 24 * 10 * 0.86602540378443864676;

const surface::Patch& plane() {
    static const surface::Patch patch =
        test::analytic_patch(test::plane_map, test::within_box(210, 210), 220, 10, false, true);
    return patch;
}

/// Area of the unit disc on the near side of a line at `distance` from its middle.
double segment(double distance) {
    return pi - std::acos(distance) + distance * std::sqrt(1.0 - distance * distance);
}

Result<DamageOutline> disc(double x, double radius) {
    job::Damage damage;
    damage.centre = Vec3(x, 0, 0);
    damage.radius = radius;
    return damage_outline(plane(), damage, bow, up);
}

TEST(OutlineAtHullEnd, DiscIsCutAlongTheEnd) {
    for (const double inside : {-3.0, 0.0, 20.0, 55.0}) {
        const auto outline = disc(end_x - inside, 60.0);
        ASSERT_TRUE(outline) << outline.error().message();
        EXPECT_TRUE(outline->cut_at_hull_end);
        // A centre beyond the end is carried on to it.
        const double distance = std::max(0.0, inside) / 60.0;
        // Chords within 0.01 mm of the arc.
        EXPECT_NEAR(signed_area(outline->chart), 3600.0 * segment(distance), 2.5) << inside;
        for (const OutlinePoint& point : outline->points)
            EXPECT_LE(point.position.x(), end_x + 1e-6);
    }
    const auto whole = disc(end_x - 61.0, 60.0);
    ASSERT_TRUE(whole) << whole.error().message();
    EXPECT_FALSE(whole->cut_at_hull_end);
}

TEST(OutlineAtHullEnd, EllipseIsCutAlongTheEnd) {
    job::Damage damage;
    damage.centre = Vec3(end_x - 10.0, 5.0, 0);
    damage.length = 160.0;
    damage.height = 80.0;
    const auto outline = damage_outline(plane(), damage, bow, up);
    ASSERT_TRUE(outline) << outline.error().message();
    EXPECT_NEAR(signed_area(outline->chart), 80.0 * 40.0 * segment(10.0 / 80.0), 2.5);
}

TEST(OutlineAtHullEnd, APointThatTellsItsPartLiesOnTheHull) {
    job::Damage damage;
    damage.centre = Vec3(end_x - 30.0, 0, 0);
    damage.radius = 60.0;
    damage.within = Vec3(end_x - 40.0, 5.0, 200.0);
    const auto refused = damage_outline(plane(), damage, bow, up);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::bad_input);
    EXPECT_EQ(refused.error().key, "damage.within");
    EXPECT_NE(refused.error().what.find("200.0 mm off the hull"), std::string::npos)
        << refused.error().what;
    damage.within->z() = 15.0;  // as near as an outline's points
    EXPECT_TRUE(damage_outline(plane(), damage, bow, up));
}

/// A plane of which a quadrant is missing.
const surface::Patch& with_inward_corner() {
    static const surface::Patch patch = test::analytic_patch(
        test::plane_map,
        [](const Vec2& p) {
            return test::within_box(210, 210)(p) && !(p.x() > 1e-6 && p.y() > 1e-6);
        },
        220, 5, false, true);
    return patch;
}

/// Second computation: places counted in the mesh's own domain.
double counted(const surface::Patch& patch, const std::function<bool(const Vec2&)>& inside) {
    double area = 0.0;
    constexpr double step = 0.25;
    for (double x = -90; x < 90; x += step)
        for (double y = -90; y < 90; y += step) {
            const Vec2 p(x + 0.5 * step, y + 0.5 * step);
            if (inside(p) && contains(patch.domain(), p)) area += step * step;
        }
    return area;
}

TEST(OutlineAtHullEnd, AtAnInwardCornerADiscIsWhatACompassDraws) {
    job::Damage damage;
    damage.centre = Vec3(-20, -20, 0);
    damage.radius = 60.0;
    const auto outline = damage_outline(with_inward_corner(), damage, bow, up);
    ASSERT_TRUE(outline) << outline.error().message();
    const double area = counted(with_inward_corner(),
                                [](const Vec2& p) { return (p + Vec2(20, 20)).norm() < 60.0; });
    EXPECT_NEAR(signed_area(outline->chart), area, 0.003 * area);
}

TEST(OutlineAtHullEnd, StraightWaysOverAnInwardCornerAreCutThere) {
    job::Damage damage;
    damage.outline = {{-60, -60, 0}, {60, -60, 0}, {60, -20, 0}, {-20, 60, 0}, {-60, 60, 0}};
    damage.join = job::Join::straight;
    const Loop2 drawn{{-60, -60}, {60, -60}, {60, -20}, {-20, 60}, {-60, 60}};
    const auto outline = damage_outline(with_inward_corner(), damage, bow, up);
    ASSERT_TRUE(outline) << outline.error().message();
    EXPECT_TRUE(outline->cut_at_hull_end);
    const double area =
        counted(with_inward_corner(), [&](const Vec2& p) { return contains(drawn, p); });
    EXPECT_NEAR(signed_area(outline->chart), area, 0.003 * area);
}

struct Drawn {
    const char* name;
    std::vector<Vec3> points;  ///< x from the end
    job::Join join;
    double area, within_mm2;
};

class PointsAtHullEnd : public testing::TestWithParam<Drawn> {};

TEST_P(PointsAtHullEnd, BoundTheSmallerPart) {
    job::Damage damage;
    for (const Vec3& p : GetParam().points) damage.outline.push_back(p + Vec3(end_x, 0, 0));
    damage.join = GetParam().join;
    const auto outline = damage_outline(plane(), damage, bow, up);
    ASSERT_TRUE(outline) << outline.error().message();
    EXPECT_TRUE(outline->cut_at_hull_end);
    EXPECT_NEAR(signed_area(outline->chart), GetParam().area, GetParam().within_mm2);
}

INSTANTIATE_TEST_SUITE_P(
    OutlineAtHullEnd, PointsAtHullEnd,
    testing::Values(Drawn{"line_on_the_end",
                          {{0, -60, 0}, {-50, -60, 0}, {-50, 60, 0}, {0, 60, 0}},
                          job::Join::straight,
                          6000.0,
                          0.01},
                    Drawn{"the_other_way_round",
                          {{0, 60, 0}, {-50, 60, 0}, {-50, -60, 0}, {0, -60, 0}},
                          job::Join::straight,
                          6000.0,
                          0.01},
                    Drawn{"beyond_it",
                          {{8, -60, 0}, {-50, -60, 0}, {-50, 60, 0}, {12, 60, 0}, {15, 0, 0}},
                          job::Join::straight,
                          6000.0,
                          0.01},
                    Drawn{"picked_short_of_it",
                          {{-2, -60, 0}, {-50, -60, 0}, {-50, 60, 0}, {-1, 60, 0}},
                          job::Join::straight,
                          6000.0,
                          0.01},
                    Drawn{"ends_in_the_middle_of_the_list",
                          {{-50, -60, 0}, {0, -60, 0}, {0, 60, 0}, {-50, 60, 0}},
                          job::Join::straight,
                          6000.0,
                          0.01},
                    // All of it nearer to the end than picks are off.
                    Drawn{"a_chip_of_2_mm",
                          {{0, -1, 0}, {-2, -1, 0}, {-2, 1, 0}, {0, 1, 0}},
                          job::Join::straight,
                          4.0,
                          0.01},
                    Drawn{"a_strip_of_3_mm",
                          {{-0.5, -60, 0}, {-3, -60, 0}, {-3, 60, 0}, {-0.5, 60, 0}},
                          job::Join::straight,
                          360.0,
                          0.01}),
    [](const auto& info) { return std::string(info.param.name); });

TEST(OutlineAtHullEnd, ALineBoundsTheSmallerPartOrWhatIsSaid) {
    job::Damage damage;
    damage.outline = {{end_x, -40, 0}, {end_x - 80, 0, 0}, {end_x, 40, 0}};
    const auto smaller = damage_outline(plane(), damage, bow, up);
    ASSERT_TRUE(smaller) << smaller.error().message();
    // The natural cubic through three points is 80 (3 t - t^3) / 2 deep from either end to the
    // middle, t = 0 to 1 over 40 mm: 5/8 of the rectangle.
    const double expected = 80.0 * 80.0 * 0.625;
    EXPECT_NEAR(signed_area(smaller->chart), expected, 3.0);
    damage.within = Vec3(end_x - 150, 0, 0);
    const auto larger = damage_outline(plane(), damage, bow, up);
    ASSERT_TRUE(larger) << larger.error().message();
    EXPECT_NEAR(signed_area(larger->chart), area(plane().domain()) - expected, 3.0);
}

TEST(OutlineAtHullEnd, ASmallDamageNearItStaysWhole) {
    // 1 to 3 mm from the end: a third of the way in is no miss of a pick.
    job::Damage damage;
    damage.outline = {{end_x - 1, -1, 0}, {end_x - 3, -1, 0}, {end_x - 3, 1, 0}, {end_x - 1, 1, 0}};
    damage.join = job::Join::straight;
    const auto outline = damage_outline(plane(), damage, bow, up);
    ASSERT_TRUE(outline) << outline.error().message();
    EXPECT_FALSE(outline->cut_at_hull_end);
    EXPECT_NEAR(signed_area(outline->chart), 4.0, 0.01);
}

TEST(OutlineAtHullEnd, OfSeveralPartsItIsTheOneThatIsSaid) {
    // A rectangle whose middle lies beyond the end leaves two: here a U about it, each leg 60 x 20.
    job::Damage damage;
    damage.join = job::Join::straight;
    damage.outline = {{end_x - 60, -40, 0}, {end_x + 10, -40, 0}, {end_x + 10, 40, 0},
                      {end_x - 60, 40, 0},  {end_x - 60, 20, 0},  {end_x + 5, 20, 0},
                      {end_x + 5, -20, 0},  {end_x - 60, -20, 0}};
    const auto both = damage_outline(plane(), damage, bow, up);
    ASSERT_FALSE(both);
    EXPECT_NE(both.error().message().find("damage.within"), std::string::npos)
        << both.error().message();
    for (const double y : {-30.0, 30.0}) {
        damage.within = Vec3(end_x - 30, y, 0);
        const auto one = damage_outline(plane(), damage, bow, up);
        ASSERT_TRUE(one) << one.error().message();
        EXPECT_NEAR(signed_area(one->chart), 60.0 * 20.0, 1.0);
        for (const OutlinePoint& point : one->points) EXPECT_GT(point.position.y() * y, 0.0);
    }
    // Beside both it says the rest of the hull, as of a line from end to end.
    damage.within = Vec3(end_x - 30, 0, 0);
    const auto rest = damage_outline(plane(), damage, bow, up);
    ASSERT_TRUE(rest) << rest.error().message();
    EXPECT_NEAR(signed_area(rest->chart), area(plane().domain()) - 2.0 * 60.0 * 20.0, 1.0);
}

TEST(OutlineAtHullEnd, WhatLiesAllBeyondItIsRefused) {
    job::Damage damage;
    damage.outline = {{end_x + 5, -40, 0}, {end_x + 15, 0, 0}, {end_x + 5, 40, 0}};
    const auto beyond = damage_outline(plane(), damage, bow, up);
    ASSERT_FALSE(beyond);
    EXPECT_EQ(beyond.error().kind, ErrorKind::bad_input);
    EXPECT_NE(beyond.error().message().find("no part of its edge lies on the hull"),
              std::string::npos)
        << beyond.error().message();
}

}  // namespace
}  // namespace tearline::damage::hull_end_test
