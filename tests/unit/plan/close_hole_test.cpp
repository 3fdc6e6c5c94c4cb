#include "core/plan/close_hole.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/closing/ring_stack.h"
#include "core/laminate/ply_thickness.h"
#include "tests/support/flat_plate.h"

/// What closes a hole in a flat plate: discs, whose areas and amounts are worked by hand.
namespace tearline::plan {
namespace {

using quantities::Stage;
using std::numbers::pi;

/// A hole of 80 mm right through a skin of 6 mm, laid from outside against a sheet that stays.
job::Job hole() {
    job::Job job = test::disc_on_plate(80.0);
    job.damage.through = true;
    job.damage.depth = 6.0;
    job.hull.skin = 6.0;
    job.scarf.from = job::ScarfFrom::outside;
    job.resin.hardener_percent = 1.25;
    job.resin.waste = 0.10;
    job.resin.prime = GramsPerSquareMetre(150.0);
    job.resin.cup = Grams(1000.0);
    job.backing = job::Backing{};
    job.backing->kind = job::BackingKind::sheet;
    job.backing->lap = 40.0;
    job.backing->thickness = 3.0;
    job.backing->stays = true;
    job.backing->access = job::Access::both_sides;
    return job;
}

/// From inside against a mould that comes off again.
job::Job mould() {
    job::Job job = hole();
    job.damage.side = job::Side::inside;
    job.scarf.from = job::ScarfFrom::inside;
    job.backing->stays = false;
    job.backing->thickness.reset();
    job.topcoat.thickness = 0.5;
    job.topcoat.density = GramsPerMillilitre(1.2);
    return job;
}

/// A sandwich of 3 mm outside, 15 mm of core and 2.5 mm inside, damaged as far as its core.
job::Job sandwich() {
    job::Job job = test::disc_on_plate(50.0);
    job.damage.reaches = job::Reaches::core;
    job.resin.hardener_percent = 1.25;
    job.resin.cup = Grams(1000.0);
    job.core = job::Core{};
    job.core->outer = 3.0;
    job.core->thickness = 15.0;
    job.core->inner = 2.5;
    job.core->seal = GramsPerSquareMetre(200.0);
    return job;
}

/// A plan of one part of which only what is asked for here is known: its damage, and one stage.
Plan open_plan(const job::Job& job) {
    Plan plan;
    plan.job = job;
    plan.place.areas.damage_mm2 = pi * *job.damage.radius * *job.damage.radius;
    Stage plies;
    plies.plies = {1};
    plies.then = "Wait.";
    plan.quantities.stages = {plies};
    plan.quantities.totals.glass_g = 100.0;
    plan.quantities.totals.resin_g = 200.0;
    plan.quantities.totals.hardener_g = 2.5;
    return plan;
}

Plan closed(const job::Job& job, Plan plan) {
    const ground::PlacedJob placed{job, {}, {}};
    const auto done = close_hole(plan, placed, test::flat_plate());
    if (!done) throw std::runtime_error(done.error().message());
    return plan;
}

Plan closed(const job::Job& job) {
    return closed(job, open_plan(job));
}

template <class Cause>
const Cause* told(const Plan& plan) {
    for (const Warning& warning : plan.warnings)
        if (const auto* found = std::get_if<Cause>(&warning.cause)) return found;
    return nullptr;
}

std::vector<Stage::Of> order_of(const Plan& plan) {
    std::vector<Stage::Of> order;
    for (const Stage& stage : plan.quantities.stages) order.push_back(stage.of);
    return order;
}

double resin_in(const Stage& stage) {
    double sum = 0.0;
    for (const quantities::Cup& cup : stage.cups) sum += cup.resin_g;
    return sum;
}

TEST(CloseHole, LaysABackingThatStaysOfWholePliesAndBondsItsLap) {
    // By hand: a disc of 80 + 40 mm. Mat of 450 g/m2 at psi 0.3 gives 1.05078 mm a ply; 3 mm are
    // 2.85 of them, three. Its bond is primed over the ring of the lap alone.
    const job::Job job = hole();
    const Plan plan = closed(job);
    ASSERT_TRUE(plan.backing);
    const BackingPlan& backing = *plan.backing;
    const double sheet = pi * 120.0 * 120.0, ring = sheet - pi * 80.0 * 80.0;
    EXPECT_NEAR(backing.area_mm2 / sheet, 1.0, 1e-3);
    EXPECT_EQ(backing.plies, 3);
    const double glass = 3.0 * sheet * 1e-6 * 450.0;
    EXPECT_NEAR(backing.glass_g / glass, 1.0, 1e-3);
    const double resin = 1.1 * (glass * 0.7 / 0.3 + ring * 1e-6 * 150.0);
    EXPECT_NEAR(backing.resin_g / resin, 1.0, 1e-3);
    // It goes on first, and into the totals: 1.25 % of hardener with its resin.
    EXPECT_EQ(order_of(plan), (std::vector{Stage::Of::backing, Stage::Of::plies}));
    const Stage& stage = plan.quantities.stages.front();
    EXPECT_NEAR(resin_in(stage), backing.resin_g, 1e-9);
    EXPECT_NEAR(stage.area_mm2 / (3.0 * sheet + ring), 1.0, 1e-3);
    EXPECT_NEAR(plan.quantities.totals.glass_g, 100.0 + backing.glass_g, 1e-9);
    EXPECT_NEAR(plan.quantities.totals.resin_g, 200.0 + backing.resin_g, 1e-9);
    EXPECT_NEAR(*plan.quantities.totals.hardener_g, 2.5 + 0.0125 * backing.resin_g, 1e-9);
    EXPECT_NEAR(plan.quantities.totals.glass_area_m2 / (3.0 * sheet * 1e-6), 1.0, 1e-3);
    EXPECT_NE(stage.then.find("Cured on the table"), std::string::npos);
    // Its plies are cut from the roll of mat, and bought.
    ASSERT_EQ(plan.rolls.size(), 1u);
    EXPECT_EQ(plan.rolls[0].placed.size(), 3u);
}

TEST(CloseHole, LaysNoPlyForATenthOfOne) {
    // By hand: 1.05078 mm a ply; 2.2 mm are 2.094 of them, which two plies give within a tenth.
    job::Job job = hole();
    job.backing->thickness = 2.2;
    EXPECT_EQ(closed(job).backing->plies, 2);
    job.backing->thickness = 2.25;  // 2.141
    EXPECT_EQ(closed(job).backing->plies, 3);
}

TEST(CloseHole, ASheetOfUnknownThicknessIsBondedAndNotLaidUp) {
    job::Job job = hole();
    job.backing->thickness.reset();
    const Plan plan = closed(job);
    ASSERT_TRUE(plan.backing);
    EXPECT_EQ(plan.backing->plies, 0);
    EXPECT_EQ(plan.backing->glass_g, 0.0);
    const double ring = pi * (120.0 * 120.0 - 80.0 * 80.0);
    EXPECT_NEAR(plan.backing->resin_g / (1.1 * ring * 1e-6 * 150.0), 1.0, 2e-3);
    const Stage& stage = plan.quantities.stages.front();
    EXPECT_NEAR(stage.area_mm2 / ring, 1.0, 2e-3);
    EXPECT_NE(stage.then.find("A sheet that you have"), std::string::npos);
    EXPECT_EQ(plan.quantities.totals.glass_g, 100.0);
}

TEST(CloseHole, CoatsAMouldWithReleaseAgentAndGelCoatBeforeTheSkinCoat) {
    // By hand: a film of 0.5 mm at 1.2 g/mL over the hole alone, a tenth of waste.
    const job::Job job = mould();
    Plan plan = open_plan(job);
    plan.quantities.stages.push_back(plan.quantities.stages.front());
    plan = closed(job, std::move(plan));
    ASSERT_TRUE(plan.backing);
    const double film = pi * 80.0 * 80.0 * 1e-6 * 500.0 * 1.2 * 1.1;
    EXPECT_NEAR(plan.backing->gel_g, film, 1e-9);
    EXPECT_EQ(order_of(plan), (std::vector{Stage::Of::release, Stage::Of::gel_coat,
                                           Stage::Of::plies, Stage::Of::plies}));
    const Stage& gel = plan.quantities.stages[1];
    double cups = 0.0;
    for (const quantities::Cup& cup : gel.gel_cups) cups += cup.resin_g;
    EXPECT_NEAR(cups, film, 1e-9);
    EXPECT_TRUE(gel.cups.empty()) << "no laminating resin";
    EXPECT_NEAR(*plan.quantities.totals.topcoat_g, film, 1e-9);
    // Topcoat's own 2 % of hardener; laminating resin is none the more.
    EXPECT_NEAR(*plan.quantities.totals.topcoat_hardener_g, 0.02 * film, 1e-9);
    EXPECT_EQ(plan.quantities.totals.resin_g, 200.0);
    EXPECT_EQ(plan.quantities.totals.hardener_g, 2.5);
    EXPECT_EQ(plan.quantities.stages[2].then.find("The skin coat"), 0u);
    EXPECT_EQ(plan.quantities.stages[3].then, "Wait.") << "the first ply alone is the skin coat";
    EXPECT_EQ(plan.backing->glass_g, 0.0) << "a mould is not laid up";
}

TEST(CloseHole, OfASandwichSealsItsCoreAfterTheFarSkin) {
    // Closed form: a plug of two discs and its square edge, 14 mm thick and 2 mm smaller than the
    // hole; 200 g/m2 and a tenth of waste. Two parts: the far skin's two stages come first.
    const job::Job job = sandwich();
    Plan plan = open_plan(job);
    plan.parts.resize(2);
    plan.parts[0].job = plan.parts[1].job = job;
    plan.parts[0].quantities.stages.resize(2);
    plan.quantities.stages.assign(3, plan.quantities.stages.front());
    plan = closed(job, std::move(plan));
    ASSERT_TRUE(plan.core);
    const double surface = 2.0 * pi * 48.0 * 48.0 + 2.0 * pi * 48.0 * 14.0;
    ASSERT_TRUE(plan.core->seal_g);
    EXPECT_NEAR(*plan.core->seal_g / (surface * 1e-6 * 200.0 * 1.1), 1.0, 5e-3);
    EXPECT_EQ(order_of(plan),
              (std::vector{Stage::Of::plies, Stage::Of::plies, Stage::Of::core, Stage::Of::plies}));
    EXPECT_NEAR(resin_in(plan.quantities.stages[2]), *plan.core->seal_g, 1e-9);
    EXPECT_FALSE(told<warn::CoreNotSealed>(plan));
    EXPECT_FALSE(told<warn::SandwichWeaker>(plan)) << "its skins are as they were";
    EXPECT_FALSE(plan.backing) << "nobody asked for one";
}

TEST(CloseHole, LeavesTheCoreAloneWhereTheSkinAloneIsDamaged) {
    job::Job job = sandwich();
    job.damage.reaches = job::Reaches::outer_skin;
    const Plan plan = closed(job);
    EXPECT_FALSE(plan.core);
    EXPECT_EQ(order_of(plan), std::vector{Stage::Of::plies});
}

TEST(CloseHole, TellsOfACoreThatIsNotSealedAndOfAWideGap) {
    job::Job job = sandwich();
    job.core->seal.reset();
    job.core->gap = 3.5;
    const Plan plan = closed(job);
    EXPECT_TRUE(told<warn::CoreNotSealed>(plan));
    ASSERT_TRUE(told<warn::CoreGapWide>(plan));
    EXPECT_EQ(told<warn::CoreGapWide>(plan)->gap, 3.5);
    EXPECT_FALSE(told<warn::CoreStandsOff>(plan)) << "flat on flat";
    // 3 mm: SOURCES.md section 12, 1/8 in.
    job.core->gap = 3.0;
    EXPECT_FALSE(told<warn::CoreGapWide>(closed(job)));
}

/// A plan whose one part is a skin of these fabrics, in the order of laying.
Plan skin_of(const job::Job& job, const std::string& name, const std::vector<std::string>& cloths) {
    Plan plan = open_plan(job);
    plan.job.part.name = name;
    int number = 0;
    for (const std::string& cloth : cloths) {
        templates::LaidPly ply;
        ply.number = ++number;
        ply.fabric = cloth;
        ply.kind = job.fabrics.at(cloth).kind;
        ply.thickness_mm = laminate::ply_thickness(job.fabrics.at(cloth), job.resin);
        ply.pieces.emplace_back();
        plan.plies.push_back(ply);
    }
    return plan;
}

TEST(CloseHole, TellsOfClothWithoutMatAgainstTheCore) {
    // The near skin's first ply lies on the core; of the far one the last.
    const job::Job job = sandwich();
    const auto ply_told = [&](const std::vector<std::string>& cloths, bool far) {
        Plan plan = skin_of(job, "outer skin", cloths);
        plan.job.part.covered = far;
        plan = closed(job, std::move(plan));
        for (const Warning& warning : plan.warnings)
            if (is<warn::CoreWithoutMat>(warning)) return *warning.ply;
        return 0;
    };
    EXPECT_EQ(ply_told({"roving 600", "mat 450", "mat 450"}, false), 1);
    EXPECT_EQ(ply_told({"mat 450", "mat 450", "roving 600"}, true), 3);
    EXPECT_EQ(ply_told({"roving 600", "mat 450", "mat 450"}, true), 0);
    // Epoxy bonds cloth to a core as well.
    job::Job epoxy = job;
    epoxy.resin.kind = job::ResinKind::epoxy;
    epoxy.resin.hardener_percent.reset();
    epoxy.resin.hardener_parts = {{5.0, 1.0}};
    epoxy.resin.density = GramsPerMillilitre(1.15);
    const Plan plan = closed(epoxy, skin_of(epoxy, "outer skin", {"roving 600", "mat 450"}));
    EXPECT_FALSE(told<warn::CoreWithoutMat>(plan));
}

TEST(CloseHole, TellsOfASandwichWeakerThanItWas) {
    // By hand: one mat of 1.05 mm where 3 mm were; the membrane stiffness of a face of a third.
    const job::Job job = sandwich();
    const Plan thin = closed(job, skin_of(job, "outer skin", {"mat 450"}));
    const auto* weaker = told<warn::SandwichWeaker>(thin);
    ASSERT_TRUE(weaker);
    // Two membranes of 3 and 2.5 before, of 1.05 and 2.5 after, at nearly one lever: their products
    // by their sums, 1.3636 and 0.7399, the lever 17.75 and 16.78 mm.
    const double t = 1.05078125;
    const auto stiffness = [](double a, double b, double lever) {
        return a * b / (a + b) * lever * lever + (a * a * a + b * b * b) / 12.0;
    };
    EXPECT_NEAR(weaker->bending,
                stiffness(t, 2.5, 15.0 + 0.5 * (t + 2.5)) / stiffness(3.0, 2.5, 17.75), 0.02);
    EXPECT_LT(weaker->strength, 0.95);
}

TEST(CloseHole, TellsOfABackingThatDoesNotPassItsHole) {
    // Closed form (SOURCES.md section 12): a round hole never lets a flat disc larger than itself
    // through; one of 160 mm needs a length of (160 + 80) / sqrt(1 - (3 / 160)^2).
    job::Job job = hole();
    job.backing->access = job::Access::one_side;
    const Plan plan = closed(job);
    const auto* stuck = told<warn::BackingDoesNotPass>(plan);
    ASSERT_TRUE(stuck);
    EXPECT_NEAR(stuck->length, 160.0, 0.2);
    EXPECT_NEAR(stuck->least, 240.0 / std::sqrt(1.0 - 9.0 / 25600.0), 0.3);
    EXPECT_NEAR(stuck->roll, 80.0 - 3.0, 0.1);
}

TEST(CloseHole, AddsNothingWhereNothingClosesIt) {
    job::Job job = hole();
    job.backing->kind = job::BackingKind::none;
    const Plan plan = closed(job);
    EXPECT_FALSE(plan.backing || plan.core);
    EXPECT_TRUE(plan.warnings.empty());
    EXPECT_EQ(order_of(plan), std::vector{Stage::Of::plies});
    EXPECT_EQ(plan.quantities.totals.resin_g, 200.0);
}

}  // namespace
}  // namespace tearline::plan
