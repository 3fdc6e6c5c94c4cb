#include "core/damage/openings.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/damage/flat_frame.h"
#include "tests/support/analytic_patch.h"

namespace tearline::damage::openings_test {
namespace {

const Vec3 bow = Vec3::UnitX(), up = Vec3::UnitY();
const Vec2 hole_at(20, 10);

/// A plane with a hole of about 25 mm radius.
const surface::Patch& with_hole() {
    static const surface::Patch patch = test::analytic_patch(
        test::plane_map,
        [](const Vec2& p) { return test::within_box(210, 210)(p) && (p - hole_at).norm() > 25.0; },
        220, 5, false, true);
    return patch;
}

job::Damage disc(const Vec3& centre, double radius) {
    job::Damage damage;
    damage.centre = centre;
    damage.radius = radius;
    return damage;
}

Result<std::vector<KeptOpening>> kept(const job::Damage& damage) {
    const auto outline = damage_outline(with_hole(), damage, bow, up);
    if (!outline) return tl::unexpected(outline.error());
    return kept_openings(with_hole(), *outline, damage, bow, up);
}

TEST(Openings, ADiscPassesOverOneAsACompassDoes) {
    for (const Vec3& centre : {Vec3(20, 10, 0), Vec3(-40, 10, 0), Vec3(25, 20, 0)}) {
        const auto outline = damage_outline(with_hole(), disc(centre, 100.0), bow, up);
        ASSERT_TRUE(outline) << outline.error().message();
        EXPECT_FALSE(outline->cut_at_hull_end);
        for (const OutlinePoint& point : outline->points)
            EXPECT_NEAR((point.position - centre).norm(), 100.0, 0.01);
    }
}

TEST(Openings, AreListedWithMiddleAndSizeUntilTheJobSaysThatTheyStay) {
    const auto refused = kept(disc({20, 10, 0}, 100.0));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::bad_input);
    EXPECT_EQ(refused.error().key, "damage.opening");
    // The lattice's own hole: its middle within an edge of the circle's, its breadth between the
    // circle's and one edge more on both sides.
    ASSERT_TRUE(refused.error().place);
    EXPECT_NEAR((refused.error().place->head<2>() - hole_at).norm(), 0.0, 2.5);
    for (const char* words : {"an opening of the hull", " x ", "keep = true"})
        EXPECT_NE(refused.error().message().find(words), std::string::npos)
            << refused.error().message();
}

TEST(Openings, AreFoundByAPlaceInThemOrByNone) {
    job::Damage damage = disc({20, 10, 0}, 100.0);
    for (const std::optional<Vec3>& centre :
         {std::optional<Vec3>(Vec3(22, 12, 0)), std::optional<Vec3>()}) {
        job::Opening opening;
        opening.centre = centre;
        opening.keep = true;
        opening.clear = 3.5;
        damage.openings = {opening};
        const auto found = kept(damage);
        ASSERT_TRUE(found) << found.error().message();
        ASSERT_EQ(found->size(), 1u);
        EXPECT_TRUE(found->front().in_model);
        EXPECT_EQ(found->front().clear, 3.5);
        // The domain's own hole, by its shoelace formula.
        EXPECT_NEAR(signed_area(found->front().edge.chart),
                    std::abs(signed_area(with_hole().domain().holes.front())), 1e-6);
        EXPECT_NEAR(found->front().width, 55.0, 6.0);
    }
}

TEST(Openings, ThatTheModelDoesNotHaveAreDrawn) {
    job::Damage damage = disc({-100, -100, 0}, 60.0);
    job::Opening round;
    round.centre = Vec3(-100, -90, 0);
    round.radius = 20.0;
    job::Opening by_points;
    by_points.outline = {{-120, -140, 0}, {-100, -140, 0}, {-100, -130, 0}, {-120, -130, 0}};
    damage.openings = {round, by_points};
    const auto found = kept(damage);
    ASSERT_TRUE(found) << found.error().message();
    ASSERT_EQ(found->size(), 2u);
    EXPECT_FALSE(found->front().in_model);
    EXPECT_NEAR(found->front().area_mm2, std::numbers::pi * 400.0, 1.0);
    EXPECT_NEAR(found->front().width, 40.0, 0.1);
    EXPECT_NEAR((found->front().middle - Vec3(-100, -90, 0)).norm(), 0.0, 0.01);
}

TEST(Openings, AFittingWiderThanItsHoleStandsForIt) {
    job::Damage damage = disc({20, 10, 0}, 100.0);
    job::Opening flange;
    flange.centre = Vec3(20, 10, 0);
    flange.radius = 45.0;
    damage.openings = {flange};
    const auto found = kept(damage);
    ASSERT_TRUE(found) << found.error().message();
    ASSERT_EQ(found->size(), 1u);
    EXPECT_NEAR(found->front().area_mm2, std::numbers::pi * 45.0 * 45.0, 2.0);
}

TEST(Openings, OneThatIsNotThereIsRefused) {
    job::Damage damage = disc({-100, -100, 0}, 60.0);
    job::Opening opening;
    opening.centre = Vec3(-100, -100, 0);
    damage.openings = {opening};
    const auto by_place = kept(damage);
    ASSERT_FALSE(by_place);
    EXPECT_EQ(by_place.error().key, "damage.opening[1].centre");
    opening.centre.reset();
    damage.openings = {opening};
    const auto by_none = kept(damage);
    ASSERT_FALSE(by_none);
    EXPECT_NE(by_none.error().message().find("no opening inside the outline"), std::string::npos);
}

TEST(Openings, OneBesideWhatTheRepairNeedsIsToldWithItsDistance) {
    // By hand: the patch ends at x = 210, cropped or by the hull's end; from (-40, -100) with a
    // radius of 60 the disc's edge is 940 from (960, -100).
    const surface::Patch& whole = with_hole();
    surface::Patch cropped = whole;
    for (auto& ends : cropped.hull_end) ends = {false, false, false};
    job::Damage damage = disc({-40, -100, 0}, 60.0);
    for (const bool drawn : {false, true}) {
        job::Opening opening;
        opening.centre = Vec3(960, -100, 0);
        if (drawn) opening.radius = 20.0;
        damage.openings = {opening};
        const auto outline = damage_outline(cropped, damage, bow, up);
        ASSERT_TRUE(outline) << outline.error().message();
        const auto far = kept_openings(cropped, *outline, damage, bow, up);
        ASSERT_FALSE(far);
        EXPECT_EQ(far.error().kind, ErrorKind::bad_input);
        EXPECT_EQ(far.error().key, "damage.opening[1]");
        EXPECT_NE(far.error().what.find("940 mm from the damage's edge"), std::string::npos)
            << far.error().what;
    }
    EXPECT_NE(kept(damage).error().what.find("off the hull"), std::string::npos)
        << "where the hull ends before";
}

TEST(Openings, TheMiddleIsBesideTheOneThatHoldsTheCentroid) {
    // Derived: up from the centroid (20, 10) the hole ends at its upper edge, the outline at 100:
    // half way between.
    const auto outline = damage_outline(with_hole(), disc({20, 10, 0}, 100.0), bow, up);
    ASSERT_TRUE(outline) << outline.error().message();
    const Loop2 hole = with_hole().domain().holes.front();
    const auto frame = flat_frame(with_hole(), *outline, bow, up, {hole});
    double edge = 0.0;
    for (std::size_t i = 0, j = hole.size() - 1; i < hole.size(); j = i++) {
        const double a = hole[j].x() - 20.0, b = hole[i].x() - 20.0;
        if ((a > 0.0) == (b > 0.0)) continue;
        edge = std::max(edge, hole[j].y() + a / (a - b) * (hole[i].y() - hole[j].y()));
    }
    EXPECT_NEAR(frame.middle.x(), 20.0, 0.05);
    EXPECT_NEAR(frame.middle.y(), 0.5 * (edge + 110.0), 0.05);
}

}  // namespace
}  // namespace tearline::damage::openings_test
