#include <gtest/gtest.h>

#include "core/job_sheet/sheet_parts.h"
#include "tests/support/words_in.h"
#include "tests/unit/job_sheet/sheet_plan.h"

namespace tearline::job_sheet {
namespace {

using quantities::Cup;
using quantities::Measured;
using quantities::Stage;
using quantities::Tool;
using test::says;
using test::SheetReader;
using test::SheetTable;

/// Three plies in two stages, nothing measured by tools.
Plan two_stages() {
    Plan plan;
    plan.job.resin.hardener_percent = 1.25;
    for (const int number : {1, 2, 3}) plan.plies.push_back(bare_ply(number, "mat 450"));
    plan.quantities.stages = {stage_of({1}, 1, 50.0), stage_of({2, 3}, 2, 40.0)};
    plan.quantities.stages[0].thickness_mm = 1.05;
    plan.quantities.stages[1].thickness_mm = 2.10;
    return plan;
}

SheetTable cups_of(const Plan& plan) {
    return table_with(SheetReader(stages_page(plan)), "Use up by");
}

std::string all_words(const Plan& plan) {
    std::string all;
    for (const std::string& text : SheetReader(stages_page(plan)).paragraphs) all += text + "\n";
    return all;
}

TEST(SheetStages, ListStagesInOrderEachWithItsPliesItsThicknessAndItsCups) {
    // By hand: 1.05 mm is 0.041 in, 2.10 mm 0.083 in.
    const SheetTable table = cups_of(two_stages());
    ASSERT_EQ(table.rows.size(), 5u);
    EXPECT_EQ(table.rows[0][0], "Stage 1: ply 1, 1.05 mm (0.041 in)");
    EXPECT_EQ(table.rows[1][1], "cup 1 of 1");
    EXPECT_EQ(table.rows[2][0], "Stage 2: plies 2 to 3, 2.10 mm (0.083 in)");
    EXPECT_EQ(table.rows[3][1], "cup 1 of 2");
    EXPECT_EQ(table.rows[4][1], "cup 2 of 2");
    EXPECT_EQ(table.rows[4][2], "40.0 g (1.41 oz wt) scale");  // 40 / 28.3495
    EXPECT_EQ(table.head, (std::vector<std::string>{"Used", "Cup", "Resin", "Hardener", "Mixed at",
                                                    "Use up by", "Gelled at"}));
}

TEST(SheetStages, NeverGiveACupMoreTimeThanItHas) {
    // A cup that has to be used within 12.6 minutes is gelling at 13: a whole minute below.
    Plan plan = two_stages();
    for (const auto& [has, shown] :
         {std::pair{12.6, "12 min: "}, {12.0, "12 min: "}, {0.6 * 20.0, "12 min: "}}) {
        plan.quantities.stages[0].cups[0].use_within_min = has;
        EXPECT_TRUE(cups_of(plan).rows[1][5].starts_with(shown)) << has;
    }
    plan.quantities.stages[0].cups[0].use_within_min = std::nullopt;
    EXPECT_EQ(cups_of(plan).rows[1][5].find("min"), std::string::npos);
}

TEST(SheetStages, SayWhatIsLeftOverOfCupsTooSmallToMeasure) {
    Plan plan = two_stages();
    for (Cup& cup : plan.quantities.stages[1].cups) {
        cup.resin_g = 30.0;
        cup.left_g = 10.0;
    }
    const SheetTable table = cups_of(plan);
    ASSERT_EQ(table.rows.size(), 6u);
    EXPECT_EQ(table.rows[5][0],
              "The job needs 30.0 g (1.1 oz wt) of resin a cup; less than this cannot be measured. "
              "10.0 g (0.353 oz wt) is left over of each: let it cure outdoors.");
    // 0.04 g would be shown as "0.0 g": nothing is said of it.
    for (Cup& cup : plan.quantities.stages[1].cups) cup.left_g = 0.04;
    EXPECT_EQ(cups_of(plan).rows.size(), 5u);
}

TEST(SheetStages, TakeTheGroundsCoatOutOfTheNextStageWhereItHasNoCup) {
    Plan plan = two_stages();
    Stage ground;
    ground.of = Stage::Of::ground;
    Cup of_another;
    of_another.resin_g = 8.0;
    ground.cups = {of_another};
    plan.quantities.stages.insert(plan.quantities.stages.begin(), ground);
    plan.quantities.stages[1].primes_g = 8.0;
    const SheetTable table = cups_of(plan);
    EXPECT_EQ(table.rows[0][0], "Stage 1: priming coat on the ground glass");
    EXPECT_EQ(table.rows[1][0],
              "No cup of its own, its hardener could not be measured: take 8.0 g (0.282 oz wt) of "
              "resin out of the first cup of the next stage, brush it on, and go on at once.");
    EXPECT_EQ(table.rows[2][0],
              "Stage 2: ply 1, 1.05 mm (0.041 in); of its first cup 8.0 g (0.282 oz wt) go on the "
              "ground first");
}

TEST(SheetStages, ACupOfTheBoatIsDosedOnTheBoatsSheetAlone) {
    Plan plan = two_stages();
    plan.quantities.stages[1].boat_cup = 7;
    const SheetTable table = cups_of(plan);
    ASSERT_EQ(table.rows.size(), 4u);
    // Both cups of 40 g are taken out of it.
    EXPECT_EQ(table.rows[3][0],
              "Boat sheet, cup 7: take 80.0 g (2.8 oz wt) of it, mixed. Its doses stand there; mix "
              "nothing here.");
}

TEST(SheetStages, NameWhatClosesAHoleByWhatItIs) {
    const std::vector<std::pair<Stage::Of, std::string>> names = {
        {Stage::Of::ground, "priming coat on the ground glass"},
        {Stage::Of::release, "release agent on the mould"},
        {Stage::Of::gel_coat, "gel coat on the mould"},
        {Stage::Of::backing, "the backing and its bond"},
        {Stage::Of::core, "the core sealed on all its faces"}};
    for (const auto& [of, words] : names) {
        Plan plan = two_stages();
        plan.quantities.stages[0].plies.clear();
        plan.quantities.stages[0].of = of;
        EXPECT_EQ(cups_of(plan).rows[0][0], "Stage 1: " + words) << "and no thickness";
    }
}

TEST(SheetStages, CallTheFirstPlyOnAMouldTheSkinCoat) {
    Plan plan = two_stages();
    plan.job.part.skin_coat = true;
    const SheetTable table = cups_of(plan);
    EXPECT_EQ(table.rows[0][0], "Stage 1: ply 1, the skin coat, 1.05 mm (0.041 in)");
    EXPECT_FALSE(says(table.rows[2][0], "skin coat"));
}

TEST(SheetStages, SayWhatToWaitForAfterTheStageAsTextNotAsMarkup) {
    Plan plan = two_stages();
    plan.quantities.stages[0].then = "Wait < 24 h.";
    const SheetTable table = cups_of(plan);
    EXPECT_EQ(table.rows[2][0], "Then: Wait < 24 h.");
    EXPECT_TRUE(says(table.rows[3][0], "Stage 2"));
}

TEST(SheetStages, EndWithTheTopcoatByItsOwnHardener) {
    Plan plan = two_stages();
    Cup coat;
    coat.resin_g = coat.mix_resin_g = 34.1;
    coat.pour_g = 34.1;
    plan.quantities.topcoat_cups = {coat};
    EXPECT_EQ(cups_of(plan).rows[5][0],
              "Last: topcoat, a sealing coat, sanded off again, 2 % of its own hardener");
    plan.job.topcoat.final_coat = true;
    plan.job.topcoat.hardener_percent = 1.8;
    EXPECT_EQ(cups_of(plan).rows[5][0], "Last: topcoat, final, 1.8 % of its own hardener");
    plan.job.topcoat.hardener_percent = std::nullopt;
    EXPECT_EQ(cups_of(plan).rows[5][0], "Last: topcoat, final, hardener by its data sheet");
    // Topcoat is weighed though the resin is measured by volume.
    plan.job.resin.hardener_basis = job::Basis::volume;
    plan.quantities.topcoat_cups[0].left_g = 5.0;
    EXPECT_TRUE(says(cups_of(plan).rows[7][0], "needs 29.1 g (1.0 oz wt) of topcoat a cup"));
    // Another part lies over it: no topcoat, whatever cups there are.
    plan.job.part.covered = true;
    EXPECT_EQ(cups_of(plan).rows.size(), 5u);
}

TEST(SheetStages, PartTheWidthOfThePaperWhole) {
    // Closed form: the columns' shares of the width come to all of it.
    for (const std::string& page :
         {stages_page(two_stages()), laying(planned()), plies_page(planned())}) {
        const std::size_t head = page.find("<thead>"), end = page.find("</thead>");
        int percent = 0;
        for (auto at = page.find("width=\"", head); at < end; at = page.find("width=\"", at + 1))
            percent += std::stoi(page.substr(at + 7));
        EXPECT_EQ(percent, 100);
    }
}

TEST(SheetStages, RoundTheMostThatIsLaidWetOnWetDown) {
    // Common practice: three quarters on a wall, half overhead. 0.75 x 3.3 is 2.475 mm: "2.5" would
    // allow more.
    Plan plan = two_stages();
    plan.job.shop.stage_thickness = 3.3;
    EXPECT_TRUE(
        says(all_words(plan), "At most 3.3 mm (0.130 in) are laid wet on wet. Mix one cup"));
    plan.job.layup.position = job::Position::vertical;
    EXPECT_TRUE(says(all_words(plan),
                     "At most 2.4 mm (0.094 in) are laid wet on wet, three "
                     "quarters of the flat figure, for work on a wall"));
    plan.job.layup.position = job::Position::overhead;
    EXPECT_TRUE(says(all_words(plan),
                     "At most 1.6 mm (0.063 in) are laid wet on wet, half of the "
                     "flat figure, for work overhead"));
}

TEST(SheetStages, SayTheGelTimeAsTheDataSheetHasIt) {
    // 20.5 minutes are neither 20 nor 21; 18 C is 64.4 F.
    Plan plan = two_stages();
    plan.job.shop.temperature = Celsius(18.0);
    plan.job.resin.gel_minutes = Minutes(20.5);
    plan.job.resin.gel_at = job::GelAt{Celsius(18.0), 1.25, Grams(100.0)};
    plan.job.laminator.use_fraction = 0.55;
    EXPECT_TRUE(says(all_words(plan),
                     "Gel time 20.5 min at 18 °C (64 °F); each cup is used within 55 % of it."));
    plan.job.shop.temperature = Celsius(24.0);
    EXPECT_TRUE(says(all_words(plan), "No time is given for the cups:"));
    EXPECT_TRUE(says(all_words(plan), "use each cup within 55 % of the time it took"));
}

TEST(SheetStages, SayWhichShareOfTheCupsStaysInPots) {
    Plan plan = two_stages();
    plan.job.resin.waste = 0.15;
    EXPECT_TRUE(says(all_words(plan), "15 % is in the cups for what stays in pots"));
}

TEST(SheetStages, SayTheHardenersRangeAndItsBasis) {
    Plan plan = two_stages();
    EXPECT_TRUE(says(all_words(plan), "Hardener 1.25 % by mass, allowed 1 to 2 %. "));
    EXPECT_TRUE(says(all_words(plan), "No drops: count yours to 1 mL first."));
    EXPECT_TRUE(says(all_words(plan), "Never add more to a laid laminate."));
    plan.job.resin.hardener_basis = job::Basis::volume;
    plan.job.resin.drops_per_mL = 33.0;
    plan.job.resin.hardener_range = std::nullopt;
    EXPECT_TRUE(says(all_words(plan), "Hardener 1.25 % by volume. "));
    EXPECT_FALSE(says(all_words(plan), "No drops"));
    plan.job.resin.hardener_percent = std::nullopt;
    EXPECT_TRUE(says(all_words(plan), "the job gives no figure, and none is assumed"));
    make_epoxy(plan.job);
    EXPECT_TRUE(says(all_words(plan), "Epoxy by its fixed ratio only, 5 : 1 by mass"));
    EXPECT_FALSE(says(all_words(plan), "Never add more"));
}

TEST(SheetStages, SayOnWhichDensitiesTheFiguresRest) {
    Plan plan = two_stages();
    plan.job.resin = job::resin_of_kind(job::ResinKind::vinylester);
    plan.job.resin.hardener_percent = 1.5;
    plan.job.resin.cured_density = 1.14;
    EXPECT_TRUE(says(all_words(plan),
                     "Without the densities of both liquids both are shown by "
                     "mass only: weigh. Cured resin 1.14 g/cm³."));
    plan.job.resin.density = GramsPerMillilitre(1.05);
    EXPECT_TRUE(says(all_words(plan),
                     "Without the hardener's density both are shown by mass only: "
                     "weigh. Resin 1.05 g/mL. Cured resin 1.14 g/cm³."));
    plan.job.resin.hardener_basis = job::Basis::volume;
    EXPECT_TRUE(says(all_words(plan),
                     "Without the hardener's density its dose is shown by volume only. Resin 1.05 "
                     "g/mL. Cured"));
    plan.job.resin.density = std::nullopt;
    plan.job.resin.hardener_density = GramsPerMillilitre(1.10);
    EXPECT_TRUE(says(all_words(plan),
                     "Without the resin's density cups are shown by volume only: "
                     "grams / 1.10 g/mL (from memory)"));
    EXPECT_TRUE(says(all_words(plan), "never its ratio wrong. Hardener 1.10 g/mL. Cured"));
}

TEST(SheetStages, NameEachToolWithAllThatItMeasures) {
    // A jug or syringe goes into one liquid only: the scale serves all, and stands there once.
    Plan plan = two_stages();
    Cup& cup = plan.quantities.stages[0].cups[0];
    cup.resin_by = Measured{Tool::scale, 50.0};
    cup.hardener_by = Measured{Tool::syringe_1, 0.6};
    const std::string words = SheetReader(stages_page(plan)).paragraph("Tools for the doses:");
    EXPECT_TRUE(says(words, "scale"));
    EXPECT_TRUE(says(words, "1-mL syringe, in hundredths of a mL (hardener)")) << words;
    EXPECT_EQ(test::count(words, "(resin"), 1u) << words;
    EXPECT_TRUE(says(words, "at most 5 % of each dose"));
}

TEST(CupTable, GivesEachNamedCupARowUnderItsHeading) {
    Plan plan = two_stages();
    Cup cup;
    cup.resin_g = 40.0, cup.mix_resin_g = 50.0, cup.left_g = 10.0, cup.pour_g = 50.0;
    const SheetTable table = table_with(
        SheetReader(cup_table(plan, {{"<b>Bow</b>, stage 2", "cup 7", cup}})), "Use up by");
    ASSERT_EQ(table.rows.size(), 3u);
    EXPECT_EQ(table.rows[0][0], "Bow, stage 2");
    EXPECT_EQ(table.rows[1][1], "cup 7");
    EXPECT_TRUE(says(table.rows[1][2], "50.0 g"));
    EXPECT_TRUE(says(table.rows[2][0], "The job needs 40.0 g (1.4 oz wt) of resin a cup"));
}

}  // namespace
}  // namespace tearline::job_sheet
