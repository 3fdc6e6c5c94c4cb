#include "core/plan/parts.h"

#include <gtest/gtest.h>

#include <numbers>

#include "core/base/outline.h"
#include "core/closing/ring_stack.h"
#include "core/plan/fit_core.h"
#include "core/plan/plan.h"
#include "tests/support/flat_plate.h"

namespace tearline::plan::parts_test {
namespace {

using test::flat_plate;

/// A disc in the middle of a plate, ground from outside.
job::Job disc(double radius) {
    return test::disc_on_plate(radius);
}

/// A hole right through a skin of 6 mm, laid from both faces.
job::Job hole() {
    job::Job job = disc(80.0);
    job.damage.through = true;
    job.hull.skin = 6.0;
    job.scarf.from = job::ScarfFrom::both;
    job.scarf.share = 0.5;
    job.scarf.first = job::Side::inside;
    job.scarf.grind_back = 0.5;
    job.damage.at_end = job::AtEnd::lap;
    return job;
}

/// A sandwich of 3 mm outside, 15 mm of core and 2.5 mm inside.
job::Job sandwich(job::Reaches reaches) {
    job::Job job = disc(50.0);
    job.damage.reaches = reaches;
    job.core = job::Core{};
    job.core->outer = 3.0;
    job.core->thickness = 15.0;
    job.core->inner = 2.5;
    job.layup_inner = job::Layup{};
    job.layup_inner->fill = {{"mat 300", 0, 0}};
    job.layup_inner->cover = {{"mat 300", 0, 0}};
    job.layup_outer = job::Layup{};
    job.layup_outer->fill = {{"mat 450", 0, 0}};
    job.layup.copies = 3;
    return job;
}

/// Mean distance of a loop from the middle of the plate, seen from above.
double radius_of(const std::vector<Vec3>& points) {
    double sum = 0.0;
    for (const Vec3& p : points) sum += p.head<2>().norm();
    return points.empty() ? 0.0 : sum / static_cast<double>(points.size());
}

TEST(PartsOf, OfAnyOtherRepairIsItself) {
    const auto parts = parts_of(disc(80.0), flat_plate());
    ASSERT_TRUE(parts) << parts.error().message();
    ASSERT_EQ(parts->size(), 1u);
    EXPECT_EQ(parts->front().damage.radius, 80.0);
    EXPECT_EQ(parts->front().part.name, "");
}

TEST(PartsOf, AHoleAreItsSidesTheSecondCarriedToItsOwnFace) {
    // By hand: 3 mm from inside first, 3.5 mm from outside. On a plate the hole comes out as it is.
    const auto parts = parts_of(hole(), flat_plate());
    ASSERT_TRUE(parts) << parts.error().message();
    ASSERT_EQ(parts->size(), 2u);
    const job::Job &inside = (*parts)[0], &outside = (*parts)[1];
    EXPECT_EQ(inside.part.name + ", " + outside.part.name, "from inside, from outside");
    EXPECT_NEAR(inside.damage.depth, 3.0, 1e-12);
    EXPECT_NEAR(outside.damage.depth, 3.5, 1e-12);
    // The plate is the outer face: the inside's damage is drawn there and carried by the skin.
    EXPECT_EQ(outside.damage.radius, 80.0);
    EXPECT_EQ(outside.damage.carried, 0.0);
    EXPECT_FALSE(inside.damage.radius);
    EXPECT_EQ(inside.damage.carried, 6.0);
    EXPECT_NEAR(radius_of(inside.damage.outline), 80.0, 0.1);
    // Over the hull's end goes what is laid last.
    EXPECT_EQ(inside.damage.at_end, job::AtEnd::cut);
    EXPECT_EQ(outside.damage.at_end, job::AtEnd::lap);
}

TEST(PartsOf, AHoleAreRefusedWhereTooMuchIsGroundOffTheFirstSidesBack) {
    // By hand: half of 3 mm must stay.
    job::Job job = hole();
    job.scarf.grind_back = 1.49;
    EXPECT_TRUE(parts_of(job, flat_plate()));
    job.scarf.grind_back = 1.5;
    const auto refused = parts_of(job, flat_plate());
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().key, "scarf.grind_back");
    EXPECT_NE(refused.error().what.find("1.5 mm: the side laid first is only 3.0 mm"),
              std::string::npos);
}

TEST(PartsOf, RefuseAFittingThatCannotStay) {
    job::Job job = hole();
    job.damage.openings.resize(1);
    const auto through = parts_of(job, flat_plate());
    ASSERT_FALSE(through);
    EXPECT_EQ(through.error().key, "damage.opening");
    job::Job cored = sandwich(job::Reaches::core);
    cored.damage.openings.resize(1);
    EXPECT_FALSE(parts_of(cored, flat_plate()));
    cored.damage.reaches = job::Reaches::outer_skin;
    EXPECT_TRUE(parts_of(cored, flat_plate())) << "the core stays, and so may the fitting";
}

TEST(PartsOf, ASandwichOfWhichTheNearSkinAloneIsDamagedAreThatSkin) {
    const auto parts = parts_of(sandwich(job::Reaches::outer_skin), flat_plate());
    ASSERT_TRUE(parts) << parts.error().message();
    ASSERT_EQ(parts->size(), 1u);
    const job::Job& near = parts->front();
    EXPECT_EQ(near.part.name, "outer skin");
    EXPECT_EQ(near.damage.depth, 3.0);
    EXPECT_EQ(near.damage.radius, 50.0);
    EXPECT_FALSE(near.part.on_new);
    EXPECT_EQ(near.layup.fill.at(0).fabric, "mat 450");
    EXPECT_EQ(near.layup.copies, 3);
}

TEST(PartsOf, ASandwichHoledAreItsFarSkinAndThenTheNearOneRoundTheCore) {
    // By hand (SOURCES.md section 12): the far skin's scarf of 12 x 2.5 mm and a guard of 10 mm are
    // freed of core, 40 mm; cut square, the near skin's damage is as large.
    const auto parts = parts_of(sandwich(job::Reaches::inner_skin), flat_plate());
    ASSERT_TRUE(parts) << parts.error().message();
    ASSERT_EQ(parts->size(), 2u);
    const job::Job &far = (*parts)[0], &near = (*parts)[1];
    EXPECT_EQ(far.part.name + ", " + near.part.name, "inner skin, outer skin");
    EXPECT_EQ(far.damage.depth, 2.5);
    EXPECT_EQ(far.part.below, 18.0);
    EXPECT_EQ(far.damage.carried, 18.0);
    EXPECT_NEAR(radius_of(far.damage.outline), 50.0, 0.1);
    EXPECT_EQ(near.damage.depth, 3.0);
    EXPECT_EQ(near.part.below, 0.0);
    EXPECT_NEAR(radius_of(near.damage.outline), 90.0, 0.1);
    EXPECT_TRUE(far.part.on_new && near.part.on_new);
    // Nothing is sanded under a core: no covers, no skim.
    EXPECT_TRUE(far.part.covered && !near.part.covered);
    EXPECT_TRUE(far.layup.cover.empty());
    EXPECT_EQ(far.layup.fill.at(0).fabric, "mat 300");
    EXPECT_EQ(far.shop.fairing_skim, 0.0);
    EXPECT_EQ(far.layup.copies, 3);
}

TEST(PartsOf, ASandwichWhoseCoreIsWetAreTheNearSkinAlone) {
    // By hand: wet 30 mm out and 50 mm taken away beyond, a chamfer of 1: 80 + 15 mm.
    job::Job job = sandwich(job::Reaches::core);
    job.core->wet_edge = 30.0;
    job.core->chamfer = 1.0;
    const auto parts = parts_of(job, flat_plate());
    ASSERT_TRUE(parts) << parts.error().message();
    ASSERT_EQ(parts->size(), 1u);
    EXPECT_NEAR(radius_of(parts->front().damage.outline), 145.0, 0.1);
    EXPECT_TRUE(parts->front().part.on_new);
}

/// The plug of a holed sandwich whose new skins are as thick as the old ones.
Result<CorePlan> plug(const job::Job& job) {
    Plan plan;
    plan.job = job;
    return fit_core(plan, job, flat_plate());
}

TEST(FitCore, OfAFlatPlateIsADiscLessItsGap) {
    // By hand: 15 mm less a bed of 1 mm; the hole in the core reaches 40 mm beyond the damage of 50
    // mm, and the plug is 2 mm less all round: a disc of 88 mm, 7 mm above the bed and its paste.
    const auto core = plug(sandwich(job::Reaches::inner_skin));
    ASSERT_TRUE(core) << core.error().message();
    EXPECT_NEAR(core->plug_mm, 14.0, 1e-9);
    EXPECT_NEAR(core->depth_mm, 3.0 + 15.0 - 1.0 - 7.0, 1e-9);
    const double area = std::numbers::pi * 88.0 * 88.0;
    EXPECT_NEAR(core->bed.area_mm2, area, 2e-3 * area);
    EXPECT_NEAR(core->top.area_mm2, area, 2e-3 * area);
    EXPECT_NEAR(core->bed.perimeter_mm, 2 * std::numbers::pi * 88.0, 0.5);
    EXPECT_EQ(core->chamfer_mm, 0.0);
    EXPECT_EQ(core->filled_mm2, 0.0);
    EXPECT_NEAR(core->stand_off_mm, 0.0, 1e-3) << "flat on flat";
    EXPECT_FALSE(core->along || core->seal_g);
    // Paste: 1 mm of bed under it, and 2 mm round it over its height with the bed.
    const double paste = (area * 1.0 + 2 * std::numbers::pi * 88.0 * 2.0 * 15.0) / 1000.0;
    EXPECT_NEAR(core->paste_mL, paste, 5e-3 * paste);
    // The same skins on a core thinner by nothing: as it was.
    EXPECT_NEAR(core->after.bending_stiffness / core->before.bending_stiffness, 1.0, 1e-9);
}

TEST(FitCore, WithAChamferIsLargerOnTheFaceTowardsYou) {
    // By hand: a chamfer of 1 on 14 mm; the hole's own edge goes out by 15 mm over the core. The
    // bed is 50 + 40 + 15 - 14 - 2 mm, the top 14 mm more.
    job::Job job = sandwich(job::Reaches::inner_skin);
    job.core->chamfer = 1.0;
    job.core->seal = GramsPerSquareMetre(200.0);
    job.resin.waste = 0.10;
    const auto core = plug(job);
    ASSERT_TRUE(core) << core.error().message();
    EXPECT_NEAR(core->chamfer_mm, 14.0, 1e-9);
    const auto disc_area = [](double r) { return std::numbers::pi * r * r; };
    EXPECT_NEAR(core->bed.area_mm2, disc_area(89.0), 3e-3 * disc_area(89.0));
    EXPECT_NEAR(core->top.area_mm2, disc_area(103.0), 3e-3 * disc_area(103.0));
    // Closed form: a frustum's faces and its side, pi (r1 + r2) s; 200 g/m2 and a tenth of waste.
    const double side = std::numbers::pi * (89.0 + 103.0) * std::hypot(14.0, 14.0);
    const double surface = disc_area(89.0) + disc_area(103.0) + side;
    ASSERT_TRUE(core->seal_g);
    EXPECT_NEAR(*core->seal_g, surface * 1e-6 * 200.0 * 1.1, 5e-3 * *core->seal_g);
}

TEST(FitCore, LeavesNoRoomWhereTheNewFarSkinIsTooThick) {
    job::Job job = sandwich(job::Reaches::inner_skin);
    Plan plan;
    plan.job = job;
    plan.parts.resize(2);
    plan.parts[0].job.part.name = "inner skin";
    plan.parts[0].plies.resize(1);
    plan.parts[0].plies[0].thickness_mm = 17.0;
    plan.parts[0].plies[0].fabric = "mat 300";
    const auto refused = fit_core(plan, job, flat_plate());
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().key, "core.thickness");
    // By hand: 15 - 1 - (17 - 2.5) mm.
    EXPECT_NE(refused.error().what.find("leaves -0.5 mm"), std::string::npos)
        << refused.error().what;
}

/// What stands on the template of a plug.
std::string words_on(const CorePlan& core) {
    std::string words = "|";
    for (const templates::Mark& mark : core.pieces.at(0).pieces.at(0).outline.marks)
        if (const auto* label = std::get_if<templates::Label>(&mark)) words += label->text + "|";
    return words;
}

TEST(FitCore, NamesItsMaterialWithoutHalfALetter) {
    // Thirty-one letters and one of two bytes: cut at 32 bytes it would be half a letter, which no
    // reader of a template's file takes.
    job::Job job = sandwich(job::Reaches::inner_skin);
    job.core->material = std::string(31, 'x') + "é";
    const auto core = plug(job);
    ASSERT_TRUE(core) << core.error().message();
    const std::string words = words_on(*core);
    EXPECT_NE(words.find("|CORE PLUG|" + std::string(31, 'X') + "é|"), std::string::npos) << words;
    EXPECT_NE(words.find("|LAID FROM OUTSIDE|THICKNESS 14.0 MM|CUT SQUARE|"), std::string::npos);
}

}  // namespace
}  // namespace tearline::plan::parts_test
