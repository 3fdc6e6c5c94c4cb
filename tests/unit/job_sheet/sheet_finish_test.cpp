#include <gtest/gtest.h>

#include "core/job_sheet/sheet_parts.h"
#include "tests/support/words_in.h"
#include "tests/unit/job_sheet/sheet_plan.h"

namespace tearline::job_sheet {
namespace {

using test::says;
using test::SheetReader;
using test::SheetTable;

std::string line(const Plan& plan, const std::string& begin) {
    return SheetReader(finish(plan)).paragraph(begin);
}

/// One mat ply over 0.1 m2.
Plan bare() {
    Plan plan;
    plan.plies = {bare_ply(1, "mat 450")};
    plan.place.areas.footprint_mm2 = 1e5;
    plan.quantities.sanding = {3.0, 1.4, 3.15, 3, 2};
    return plan;
}

TEST(Finish, SandsBackToTheFairSurfaceAndSaysWhatStays) {
    Plan plan = bare();
    EXPECT_EQ(line(plan, "Sand "),
              "Sand 1.40 mm (0.055 in) off over the floor, back to the fair surface, with P40, P80 "
              "†: 3.15 mm (0.124 in) of fresh laminate stay (3 plies).");
    plan.quantities.sanding.sanding_mm = 0.004;  // would be shown as 0.00
    EXPECT_TRUE(
        says(line(plan, "Sand "), "Sand dull: over the floor nothing stands above the fair"));
    plan.quantities.proud = {0.53, 1.05};
    EXPECT_TRUE(says(line(plan, "Sand "),
                     "Under the covers the scarf ends 0.53 mm proud on "
                     "average, 1.05 mm at most."));
}

TEST(Finish, ChoosesTheToolByTheBendOfTheWidestPly) {
    // Common practice: a long board bends to no less than 1 m; below 3 mm it is an edge.
    Plan plan = bare();
    EXPECT_TRUE(line(plan, "Long board").ends_with("No bend here is too tight for it."));
    plan.plies.push_back(bare_ply(2, "mat 450"));
    plan.plies[0].edge_offset_mm = 10.0;
    plan.plies[1].edge_offset_mm = 50.0;
    plan.plies[0].convex_radius_mm = 20.0;  // under the widest ply: nobody sands it
    EXPECT_TRUE(line(plan, "Long board").ends_with("No bend here is too tight for it."));
    plan.plies[1].convex_radius_mm = 999.0;
    EXPECT_TRUE(line(plan, "Long board")
                    .ends_with("On the bend, radius down to 999 mm (39 5/16 in): a soft pad that "
                               "bends round, and strokes "
                               "along its line."));
    plan.plies[1].convex_radius_mm = 2.9;
    plan.plies[1].concave_radius_mm = 80.0;
    EXPECT_TRUE(line(plan, "Long board")
                    .ends_with("To the edge from both sides, never across it; a soft pad rounds it "
                               "last. In the hollow, "
                               "radius down to 80 mm (3 5/32 in): a pad or pipe a little rounder "
                               "than that, and strokes "
                               "along its line."));
    plan.plies[1].convex_radius_mm = std::nullopt;
    plan.plies[1].concave_radius_mm = 0.0;
    EXPECT_TRUE(says(line(plan, "Long board"), "Into the inside corner a rod with paper round it"));
}

TEST(Finish, FillsWithItsOwnHardenerAndEpoxyByItsOwnRatio) {
    Plan plan = bare();
    plan.quantities.totals.fairing_mL = 250.0;
    EXPECT_TRUE(says(line(plan, "Fill and fair"), "about 250 mL (8.45 fl oz) of compound"));
    EXPECT_TRUE(says(line(plan, "Fill and fair"), "Its own hardener: _____ % by its tin (2 % by"));
    EXPECT_TRUE(says(line(plan, "Fill and fair"), "Sand with P80, P120, P180"));
    make_epoxy(plan.job);
    plan.job.resin.hardener_basis = job::Basis::volume;
    EXPECT_TRUE(says(line(plan, "Fill and fair"), "Mix resin and hardener 5 : 1 by volume first"));
    EXPECT_FALSE(says(line(plan, "Fill and fair"), "Its own hardener"));
}

TEST(Finish, GivesAnotherGelCoatWhereTheSealingCoatWasSandedOff) {
    // By hand: 0.1 m2 x 0.508 mm x 1.25 g/mL x 1.1 are 69.85 g; 2 % of it 1.4 g.
    Plan plan = bare();
    const std::string words = line(plan, "Gel coat");
    EXPECT_TRUE(says(
        words,
        "70 g (2.5 oz wt), besides the sealing coat that was sanded off, for "
        "0.100 m² (1.08 ft²), 0.51 mm = 20 mil = about 5 sheets of printer paper wet, one cup of "))
        << words;
    EXPECT_TRUE(says(words,
                     "of its own hardener (2 %; by its data sheet _____ %), waxed in the "
                     "last coat or under film."));
    EXPECT_TRUE(says(words, "wet with P320, P400, P600, P800, P1200"));
    EXPECT_NE(line(plan, "Or paint"), "");
    plan.job.topcoat.final_coat = true;
    EXPECT_TRUE(
        says(line(plan, "Final topcoat"), "70 g (2.5 oz wt), the last of the table of cups,"));
    EXPECT_TRUE(says(line(plan, "Final topcoat"), "The glass ends that much lower."));
    EXPECT_EQ(line(plan, "Or paint"), "") << "what is final is not painted";
    plan.job.resin.cup = Grams(40.0);
    EXPECT_TRUE(says(line(plan, "Final topcoat"), "wet, 2 cups, each of 34.9 g"));
    plan.job.topcoat.hardener_percent = std::nullopt;
    EXPECT_TRUE(
        says(line(plan, "Final topcoat"), "_____ % of its own hardener, by its data sheet"));
}

TEST(Finish, NeverPutsPolyesterGelCoatOnEpoxy) {
    // SOURCES.md section 4: polyester does not bond reliably to cured epoxy.
    Plan plan = bare();
    make_epoxy(plan.job);
    EXPECT_TRUE(line(plan, "Polyester gel coat never goes over epoxy")
                    .ends_with("unless on a tie coat that its maker names: paint it."));
    EXPECT_EQ(line(plan, "Gel coat"), "");
    EXPECT_TRUE(says(line(plan, "Paint"), "sand to P180, P240, P320, then 3 coats"));
    plan.job.topcoat.final_coat = true;
    EXPECT_NE(line(plan, "Paint"), "") << "its own topcoat may be paint";
    plan.quantities.totals.topcoat_g = 70.0;
    EXPECT_TRUE(says(line(plan, "Polyester gel coat never"),
                     "the topcoat of this job, 70 g (2.5 oz wt), has to be one that its maker "
                     "names for epoxy."));
}

TEST(Finish, PaintsThreeCoatsAtTenSquareMetresALitre) {
    // Common practice. 0.1 m2 x 3 / 10 m2 a litre are 30 mL; 10 m2 a litre are 407 ft2 a gallon.
    EXPECT_TRUE(says(line(bare(), "Or paint"),
                     "then 3 coats, 30 mL (1.01 fl oz) in all at 10 m² a litre (407 ft² a gallon) "
                     "and coat"));
}

TEST(Finish, SealsCutEndsOfGlass) {
    Plan plan = bare();
    EXPECT_EQ(line(plan, "Hull's end"), "");
    plan.warnings = {{warn::CutAtHullEnd{true}}};
    EXPECT_EQ(line(plan, "Hull's end"), "") << "it ends only where nobody measured farther";
    plan.warnings = {{warn::CutAtHullEnd{false}}};
    EXPECT_TRUE(says(line(plan, "Hull's end"),
                     "trim the cloth flush where the templates say HULL "
                     "ENDS HERE, and seal the cut edge"));
    EXPECT_EQ(line(plan, "Ends of the laps"), "");
    plan.place.lap = plan::LapView{};
    EXPECT_NE(line(plan, "Ends of the laps"), "");
}

std::string seal(const Plan& plan) {
    for (const char* begin : {"Seal", "Wash"}) {
        const std::string found = SheetReader(cure(plan)).paragraph(begin);
        if (!found.empty()) return found;
    }
    return "";
}

TEST(Cure, SealsWhatStaysTackyInAir) {
    Plan plan = bare();
    EXPECT_TRUE(says(seal(plan),
                     "by a sealing coat of topcoat, 0.51 mm = 20 mil = about 5 sheets of printer "
                     "paper wet, by film"));
    plan.job.topcoat.final_coat = true;
    EXPECT_FALSE(says(seal(plan), "sealing coat"));
    EXPECT_TRUE(says(seal(plan), "by film rolled free of air"));
    plan.job.resin.waxed = true;
    EXPECT_TRUE(says(seal(plan), "Sealed by its own wax: sand it off before anything"));
    make_epoxy(plan.job);
    EXPECT_TRUE(says(seal(plan), "Wash off the blush with water and a pad before any sanding"));
}

TEST(Cure, KeepsAcetoneFromHardenerInItsCheck) {
    Plan plan = bare();
    EXPECT_TRUE(says(SheetReader(cure(plan)).paragraph("Is it cured?"),
                     "No hardener stands open where there is acetone."));
    EXPECT_TRUE(says(SheetReader(cure(plan)).paragraph("Cure at least"),
                     "48 h at 18 °C (64 °F) or more before load"));
    make_epoxy(plan.job);
    EXPECT_TRUE(says(SheetReader(cure(plan)).paragraph("Is it cured?"), "flames and sparks away"));
}

TEST(Disposal, KeepsRagsApartAndBagsThePoison) {
    Plan plan = bare();
    const auto said = [&](const std::string& begin) {
        return SheetReader(disposal(plan)).paragraph(begin);
    };
    EXPECT_TRUE(says(said("Rags"), "never both in one"));
    EXPECT_TRUE(says(said("Waste"), "that of old antifouling apart as poison"));
    plan.job.damage.side = job::Side::inside;
    EXPECT_FALSE(says(said("Waste"), "antifouling"));
    make_epoxy(plan.job);
    EXPECT_TRUE(says(said("Rags"), "with solvent into the metal can with water"));
}

// Time.

SheetTable times(const Plan& plan) {
    return table_with(SheetReader(time_plan(plan)), "Made of");
}

TEST(TimePlan, AddsUpWhatThePlansOwnFiguresGive) {
    // By hand: 0.2 m2 of cloth at 0.05 m2 a minute 4 minutes, and 0.1 m2 of topcoat 2; two pieces
    // and two cups at 5 minutes each (common practice): 26 minutes, 0.4 h. The test cup is not in
    // it.
    Plan plan = bare();
    plan.plies.push_back(bare_ply(2, "mat 450"));
    for (const int number : {1, 2})
        plan.quantities.plies.push_back({number, {{}}, 1e5, 45.0, 105.0});
    plan.quantities.totals.glass_area_m2 = 0.2;
    plan.quantities.stages = {stage_of({1}, 1, 105.0), stage_of({2}, 1, 105.0)};
    const SheetTable table = times(plan);
    EXPECT_EQ(table.row("Tear and cut")[1], "2 pieces, 5 min each †");
    EXPECT_EQ(table.row("Tear and cut")[2], "10 min");
    EXPECT_EQ(
        table.row("Wet out")[1],
        "cloth 0.200 m² (2.15 ft²), ground 0.0 cm² (0.00 in²), topcoat 0.100 m² (1.08 ft²) at "
        "0.050 m² (0.54 ft²) a minute (from memory)");
    EXPECT_EQ(table.row("Wet out")[2], "6 min");
    EXPECT_EQ(table.row("Mix")[1], "2 cups, 5 min each †");
    EXPECT_EQ(table.row("Mix")[2], "10 min");
    EXPECT_EQ(table.row("Work, tearing")[2], "0.4 h");
    EXPECT_EQ(table.row("Waits")[1], "1 wait to tack, 30 min after gel †; at the latest 24 h each");
    EXPECT_EQ(table.row("Waits")[2], "") << "without a gel time no figure";
    EXPECT_EQ(table.row("Laying")[2], "1 to 2 days");
    EXPECT_EQ(table.row("Cure")[2], "2 days");
    EXPECT_EQ(table.row("Days in all")[2], "3 to 4 days");
}

TEST(TimePlan, CountsGelAndTackOnceTheGelTimeIsKnown) {
    Plan plan = bare();
    plan.quantities.plies.push_back({1, {{}}, 1e5, 45.0, 105.0});
    plan.quantities.stages = {stage_of({1}, 1, 105.0)};
    EXPECT_EQ(times(plan).row("Waits")[1], "one stage: none");
    plan.quantities.stages = {stage_of({1}, 1, 50.0), stage_of({1}, 1, 50.0),
                              stage_of({1}, 1, 5.0)};
    plan.job.resin.hardener_percent = 1.25;
    plan.job.resin.gel_minutes = Minutes(20.0);
    plan.job.resin.gel_at = job::GelAt{};
    EXPECT_EQ(times(plan).row("Waits")[1],
              "2 waits of gel and 30 min to tack †; at the latest 24 h "
              "each");
    EXPECT_EQ(times(plan).row("Waits")[2], "100 min");  // 2 x (20 + 30)
    plan.job.resin.waxed = true;
    EXPECT_EQ(times(plan).row("Waits")[1], "2 waits for hard cure, sand, wash: overnight †");
    EXPECT_EQ(times(plan).row("Laying")[2], "3 days");
    plan.job.topcoat.final_coat = true;
    EXPECT_EQ(times(plan).row("Final topcoat")[2], "1 day");
    EXPECT_EQ(times(plan).row("Days in all")[2], "6 days");
}

// Warnings.

TEST(WarningList, StandsByRankTheGravestFirstWithABoxForWhatIsToDo) {
    Plan plan = bare();
    plan.warnings = {
        {.cause = warn::CoverCutAtHullEnd{false}, .ply = 2},  // know
        {.cause = warn::CutAtHullEnd{false}, .ply = 3},       // stop
        {.cause = warn::ShearNearLimit{"roving", 31.0, 40.0}, .ply = 2, .piece = "2A"}};
    const std::string html = warning_list(plan);
    const SheetReader sheet(html);
    ASSERT_EQ(sheet.items.size(), 3u);
    EXPECT_TRUE(says(sheet.items[0], "Ply 3")) << sheet.items[0];
    EXPECT_LT(html.find("rank-stop"), html.find("rank-know"));
    // A box to tick before each but what is only to know.
    EXPECT_EQ(test::count(html, "<svg"), test::count(html, "class=\"warning rank-stop\"") +
                                             test::count(html, "class=\"warning rank-do\""));
    EXPECT_GT(test::count(html, "class=\"warning rank-know\""), 0u);
    plan.warnings.clear();
    EXPECT_EQ(warning_list(plan), "");
}

}  // namespace
}  // namespace tearline::job_sheet
