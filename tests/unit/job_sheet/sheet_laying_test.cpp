#include <gtest/gtest.h>

#include "core/job_sheet/sheet_parts.h"
#include "tests/support/words_in.h"
#include "tests/unit/job_sheet/sheet_plan.h"

namespace tearline::job_sheet {
namespace {

using quantities::Cup;
using quantities::Stage;
using test::says;
using test::SheetReader;
using test::SheetTable;

/// Plies of 100 g of glass and so much resin each, in one stage of so many equal cups.
Plan laid(const std::vector<double>& resin_g, int cups) {
    Plan plan;
    double sum = 0.0;
    std::vector<int> numbers;
    for (std::size_t i = 0; i < resin_g.size(); ++i) {
        const int number = static_cast<int>(i) + 1;
        numbers.push_back(number);
        plan.plies.push_back(bare_ply(number, "mat 450"));
        plan.quantities.plies.push_back({number, {}, 1e5, 100.0, resin_g[i]});
        sum += resin_g[i];
    }
    plan.quantities.stages = {stage_of(numbers, cups, 1.1 * sum / cups)};
    plan.quantities.stages[0].thickness_mm = 1.05;
    plan.quantities.sanding.floor_mm = 3.0;
    return plan;
}

SheetTable stages_of(const Plan& plan) {
    return table_with(SheetReader(laying(plan)), "Which cup goes where");
}

std::string cups_where(const std::vector<double>& resin_g, int cups) {
    return stages_of(laid(resin_g, cups)).rows[0][2];
}

TEST(SheetLaying, SaysWhichCupGoesWhereByTheResinOfEachPly) {
    // By hand: two equal plies and two cups; four cups; a ply that takes three times as much.
    EXPECT_EQ(cups_where({50, 50}, 2), "cup 1: ply 1 cup 2: ply 2");
    EXPECT_EQ(cups_where({50, 50}, 4),
              "cup 1: half of ply 1 cup 2: the rest of ply 1 cup 3: half of ply 2 cup 4: the rest "
              "of ply 2");
    EXPECT_EQ(cups_where({90, 30}, 2),
              "cup 1: two thirds of ply 1 cup 2: the rest of ply 1, ply 2");
    EXPECT_EQ(cups_where({90}, 3),
              "cup 1: a third of ply 1 cup 2: another third of ply 1 cup 3: the rest of ply 1");
    EXPECT_EQ(cups_where({40}, 4),
              "cup 1: a quarter of ply 1 cup 2: another quarter of ply 1 cup 3: another quarter of "
              "ply 1 cup 4: the rest of ply 1");
}

TEST(SheetLaying, LeavesOutWhatTheLastCupServesFor) {
    // 100 and 97 g in two cups: the second brings 1.5 % of ply 1, which nobody pours apart.
    EXPECT_EQ(cups_where({100, 97}, 2), "cup 1: ply 1 cup 2: ply 2");
    // 100 and 80 g: cup 1 leaves a tenth of ply 1.
    EXPECT_EQ(cups_where({100, 80}, 2),
              "cup 1: nine tenths of ply 1 cup 2: the rest of ply 1, ply 2");
}

TEST(SheetLaying, TellsEveryOtherWayACupMayCome) {
    Plan plan = laid({50, 50}, 2);
    plan.quantities.stages[0].boat_cup = 3;
    plan.quantities.stages[0].cups.resize(1);
    EXPECT_EQ(stages_of(plan).rows[0][2], "Boat sheet, cup 3: ply 1, ply 2");

    plan = laid({50}, 1);
    Stage seal = stage_of({}, 2, 30.0);
    seal.of = Stage::Of::core;
    seal.part = "core";
    Stage release;
    release.of = Stage::Of::release;
    release.part = "release agent";
    plan.quantities.stages = {release, seal, plan.quantities.stages[0]};
    const SheetTable table = stages_of(plan);
    EXPECT_EQ(table.rows[0][0], "1: release agent");
    EXPECT_EQ(table.rows[0][2], "none: by its data sheet");
    EXPECT_EQ(table.rows[1][0], "2: core");
    EXPECT_EQ(table.rows[1][1], "brush, roller");
    EXPECT_EQ(table.rows[1][2], "its 2 cups all over it");
    EXPECT_EQ(table.rows[1][4], "") << "no cloth builds up";
    EXPECT_EQ(table.rows[2][0], "3: ply 1");
    plan.quantities.stages[1].cups.pop_back();
    EXPECT_EQ(stages_of(plan).rows[1][2], "its cup all over it");
}

TEST(SheetLaying, WetsTheGroundOutOfTheNextStageByItsTool) {
    // 10 g of prime and 10 % of waste, out of a cup of the stage behind it.
    Plan plan = laid({50}, 1);
    Stage ground;
    ground.of = Stage::Of::ground;
    ground.cups.resize(1);
    plan.quantities.stages.insert(plan.quantities.stages.begin(), ground);
    plan.quantities.stages[1].primes_g = 11.0;
    plan.quantities.totals.prime_g = 10.0;
    plan.quantities.totals.ground_area_m2 = 0.07;
    EXPECT_EQ(SheetReader(laying(plan)).paragraph("Wet the ground"),
              "Wet the ground: 11.0 g (0.388 oz wt) of resin out of the first cup of stage 2, by "
              "the scale under that cup, on 0.070 m² (0.75 ft²), brushed into the scratches; the "
              "first ply goes into it wet.");
    EXPECT_EQ(stages_of(plan).rows[0][2], "out of the next stage's first cup");
    // The ground and the ply share the cup: 10 of 60 g are a sixth, all of both in one.
    EXPECT_EQ(stages_of(plan).rows[1][2], "cup 1: the ground, ply 1");

    plan.job.resin.hardener_basis = job::Basis::volume;  // 11 g / 1.13 are 9.73 mL
    EXPECT_TRUE(says(SheetReader(laying(plan)).paragraph("Wet the ground"),
                     "9.7 mL (0.329 fl oz) of resin out of the first cup of stage 2, by a 10-mL "
                     "syringe for nothing else, on"));
    plan.quantities.stages[1].primes_g = 0.0;
    EXPECT_TRUE(says(SheetReader(laying(plan)).paragraph("Wet the ground"),
                     "out of the cups of stage 1, on"));
    plan.quantities.totals.prime_g = 0.0;
    EXPECT_EQ(SheetReader(laying(plan)).paragraph("Wet the ground"), "");
}

TEST(SheetLaying, CountsUpWhatIsBuiltAndHowLowItStillIs) {
    // By hand: 1.05 mm on a floor 3 mm deep, then 2.10 more: 1.95 low, 0.15 proud.
    Plan plan = laid({50, 50}, 1);
    plan.quantities.stages = {stage_of({1}, 1, 55.0), stage_of({2}, 1, 55.0)};
    plan.quantities.stages[0].thickness_mm = 1.05;
    plan.quantities.stages[1].thickness_mm = 2.10;
    EXPECT_EQ(stages_of(plan).rows[0][4], "1.05 mm (0.041 in) 1.95 mm (0.077 in) low");
    EXPECT_EQ(stages_of(plan).rows[1][4], "3.15 mm (0.124 in) 0.15 mm (0.006 in) proud");
    plan.built = plan::BuiltSoFar{1, 0.9, 1.0, {}};
    EXPECT_EQ(stages_of(plan).rows[0][4], "2.05 mm (0.081 in) 0.95 mm (0.037 in) low");
}

TEST(SheetLaying, SaysTheResinOnTheGlassAndItsRatioByWeight) {
    // 120 g on 200 g of glass are 0.60 : 1; by volume 120 / 1.13 = 106 mL.
    Plan plan = laid({70, 50}, 1);
    EXPECT_EQ(stages_of(plan).rows[0][3], "120 g (4.2 oz wt) on 200 g (7.1 oz wt) = 0.60 : 1");
    plan.job.resin.hardener_basis = job::Basis::volume;
    EXPECT_EQ(stages_of(plan).rows[0][3],
              "106 mL (3.59 fl oz) on 200 g (7.1 oz wt) = 0.60 : 1 by weight");
}

TEST(SheetLaying, SaysEachClothsRatioOnceInTheOrderOfLaying) {
    Plan plan = laid({70, 50, 70}, 1);
    plan.plies[1].fabric = "roving <600>";
    EXPECT_TRUE(says(SheetReader(laying(plan)).paragraph("Wet out"),
                     "Resin to glass by weight 0.70 : 1 for mat 450, 0.50 : 1 for roving <600>."));
}

TEST(SheetLaying, SaysWhichPiecesToPressDownFirst) {
    Plan plan = laid({50, 50}, 1);
    EXPECT_EQ(stages_of(plan).rows[0][1], "1A 2A");
    plan.plies[1].pieces[0].piece.press_first = Vec2(0, 0);
    EXPECT_EQ(stages_of(plan).rows[0][1], "1A 2A press 2A down at its ring first");
    plan.plies[0].pieces[0].piece.press_first = Vec2(0, 0);
    EXPECT_EQ(stages_of(plan).rows[0][1], "1A 2A press each down at its ring first");
}

TEST(SheetLaying, NamesTheTightestBendUnderThePliesAlone) {
    // Common practice: below 300 mm a bend is rolled from its own line.
    Plan plan = laid({50, 50}, 1);
    const auto lay = [&] { return SheetReader(laying(plan)).paragraph("Lay low"); };
    EXPECT_EQ(lay(), "Lay low spots first, then outwards.");
    plan.plies[0].convex_radius_mm = 301.0;
    EXPECT_EQ(lay(), "Lay low spots first, then outwards.");
    plan.plies[1].concave_radius_mm = 120.0;
    EXPECT_EQ(lay(),
              "Lay low spots first, and along the bend of 120 mm (4 23/32 in) radius, the tightest "
              "here, then outwards.");
    EXPECT_TRUE(
        says(SheetReader(laying(plan)).paragraph("Roll from"),
             "from the middle (at the bend of 120 mm (4 23/32 in) radius from its line) to"));
    plan.plies[0].convex_radius_mm = 0.0;
    EXPECT_TRUE(says(lay(), "and along the hull's sharp edge, the tightest here"));
}

TEST(SheetLaying, GivesMinutesOnlyWithAGelTime) {
    // 0.1 m2 a ply at 0.05 m2 a minute are 2 minutes, and 5 for the cup (common practice).
    Plan plan = laid({50}, 1);
    EXPECT_EQ(stages_of(plan).rows[0][6], "_____");
    plan.job.resin.hardener_percent = 1.25;
    plan.job.resin.gel_minutes = Minutes(20.0);
    plan.job.resin.gel_at = job::GelAt{};
    EXPECT_EQ(stages_of(plan).rows[0][6], "7 min planned, took _____");
    Stage ground;
    ground.of = Stage::Of::ground;
    ground.cups.resize(1);
    plan.quantities.stages.insert(plan.quantities.stages.begin(), ground);
    plan.quantities.stages[1].primes_g = 5.0;
    EXPECT_EQ(stages_of(plan).rows[0][6], "with stage 2");
}

TEST(SheetLaying, LetsWaxedResinCureAndTellsTheRestTheirRecoatTime) {
    Plan plan = laid({50}, 1);
    plan.job.resin.recoat_hours = Hours(36.5);
    const std::string begin = "Between stages";
    EXPECT_TRUE(SheetReader(laying(plan)).paragraph(begin).ends_with(", within 36.5 h."));
    plan.job.resin.waxed = true;
    EXPECT_TRUE(SheetReader(laying(plan))
                    .paragraph(begin)
                    .ends_with("but this resin is waxed: let it cure and sand it."));
}

TEST(Mixing, TellsTheHardenerOfOneFluidOunce) {
    // By hand: 29.5735 mL x 1.13 g/mL x 1.25 % / 1.15 g/mL = 0.3632 mL = 0.01228 fl oz.
    Plan plan;
    plan.job.resin.hardener_percent = 1.25;
    plan.job.resin.hardener_density_given = true;
    EXPECT_TRUE(says(SheetReader(mixing(plan)).paragraph("A small cup"),
                     "one fluid ounce of resin at 1.25 % takes 0.36 mL (0.012 fl oz) of hardener"));
    plan.job.resin.drops_per_mL = 33.0;
    EXPECT_TRUE(says(SheetReader(mixing(plan)).paragraph("A small cup"), ", 33 to 1 mL"));
    // A percentage of the volume: 0.3697 mL whatever the densities.
    plan.job.resin.hardener_basis = job::Basis::volume;
    EXPECT_TRUE(says(SheetReader(mixing(plan)).paragraph("A small cup"), "0.37 mL (0.013 fl oz)"));
    plan.job.resin.density = std::nullopt;
    EXPECT_EQ(SheetReader(mixing(plan)).paragraph("A small cup"), "");
}

TEST(Mixing, StirsEpoxyTwiceAndWatchesNoColour) {
    Plan plan;
    EXPECT_NE(SheetReader(mixing(plan)).paragraph("Watch the colour"), "");
    EXPECT_EQ(SheetReader(mixing(plan)).paragraph("Stir two minutes"), "");
    make_epoxy(plan.job);
    EXPECT_EQ(SheetReader(mixing(plan)).paragraph("Watch the colour"), "");
    EXPECT_TRUE(says(SheetReader(mixing(plan)).paragraph("Stir two minutes"),
                     "pour it into a second clean cup and stir again"));
    EXPECT_NE(SheetReader(mixing(plan)).paragraph("Pour it out into a flat tray"), "");
}

}  // namespace
}  // namespace tearline::job_sheet
