#include <gtest/gtest.h>

#include "core/job_sheet/overview_svg.h"
#include "core/job_sheet/sheet_parts.h"
#include "tests/support/words_in.h"
#include "tests/unit/job_sheet/sheet_plan.h"

namespace tearline::job_sheet {
namespace {

using test::says;
using test::SheetReader;
using test::SheetTable;

/// Each figure of the table of the repair by its name; two pairs stand in a row.
std::map<std::string, std::string> repair_of(const Plan& plan) {
    const SheetReader sheet(place_page(plan));
    std::map<std::string, std::string> out;
    for (const auto& row : table_with(sheet, "Damage").rows)
        for (std::size_t i = 0; i + 1 < row.size(); i += 2) out[row[i]] = row[i + 1];
    return out;
}

TEST(PlacePage, HasTheRepairInFiguresEachByItsName) {
    Plan plan;
    plan.job.damage.depth = 2.0;
    plan.place.areas.damage_mm2 = 11'310.0;
    plan.place.areas.damage_perimeter_mm = 377.0;
    plan.place.areas.scarf_mm2 = 21'000.0;
    plan.place.areas.footprint_mm2 = 50'000.0;
    plan.place.areas.lap_mm2 = 3'000.0;
    plan.plies = {bare_ply(1, "mat 450"), bare_ply(2, "mat 450")};
    plan.quantities.totals.laid_thickness_mm = 2.1;
    plan.quantities.totals.resin_g = 200.0;
    plan.quantities.stages = {stage_of({1, 2}, 2, 110.0)};
    for (quantities::Cup& cup : plan.quantities.stages[0].cups) cup.left_g = 10.0;
    auto figures = repair_of(plan);
    EXPECT_EQ(figures["Damage"], "0.011 m² (0.12 ft²)");
    EXPECT_EQ(figures["Round it"], "377 mm (14 13/16 in)");
    EXPECT_EQ(figures["Depth to grind"], "2.00 mm (0.079 in)");
    EXPECT_EQ(figures["Scarf"], "12.0 : 1, 24.0 mm (15/16 in) wide");
    EXPECT_EQ(figures["Ground area"], "0.024 m² (0.26 ft²)");  // beyond the hull's end too
    EXPECT_EQ(figures["All that is touched"], "0.053 m² (0.57 ft²)");
    EXPECT_EQ(figures["Laid from"], "outside");
    EXPECT_EQ(figures["Order"], "smallest piece first");
    EXPECT_EQ(figures["Thickness laid"], "2.10 mm (0.083 in)");
    EXPECT_EQ(figures["Resin, needed"], "200 g (7.1 oz wt)");
    EXPECT_EQ(figures["Resin, mixed in cups"], "220 g (7.8 oz wt)");
    EXPECT_EQ(figures["Plies"], "2");
    EXPECT_FALSE(figures.contains("Copies"));
    plan.job.damage.side = job::Side::inside;
    plan.job.layup.order = job::Order::largest_first;
    plan.job.layup.copies = 3;
    make_epoxy(plan.job);
    plan.place.dish = {{0.0, 2.0}, {30.0, 0.0}};
    figures = repair_of(plan);
    EXPECT_EQ(figures["Laid from"], "inside");
    EXPECT_EQ(figures["Order"], "largest piece first");
    EXPECT_EQ(figures["Copies"], "3");
    EXPECT_EQ(figures["Scarf"], "12.0 : 1, 30.0 mm (1 3/16 in) wide");
    EXPECT_TRUE(figures.contains("Resin and hardener together, needed"));
}

TEST(PlacePage, IsHeadedByTheJobsTitleOrElseItsFile) {
    Plan plan;
    plan.job.file = "yard/curlew.toml";
    plan.job.hull.model = "models/curlew.step";
    plan.model_sha256 = "0123456789abcdef0123";
    const std::string sheet = place_page(plan);
    EXPECT_TRUE(says(sheet, "<h1>curlew</h1>"));
    EXPECT_TRUE(says(SheetReader(sheet).paragraph("Job sheet"),
                     "hull model curlew.step · SHA-256 0123456789ab… · tearline"));
    plan.job.title = "Curlew & Co";
    EXPECT_TRUE(says(place_page(plan), "<h1>Curlew &amp; Co</h1>"));
    plan.job.hull.measured = job::BattenGaps{};
    EXPECT_FALSE(says(SheetReader(place_page(plan)).paragraph("Job sheet"), "hull model"));
}

TEST(PlacePage, SaysHowManyWarningsThereAreAndOfWhichRank) {
    Plan plan;
    EXPECT_EQ(SheetReader(place_page(plan)).paragraph("This plan warns"), "");
    plan.warnings = {{warn::CutAtHullEnd{false}}, {warn::CoverCutAtHullEnd{false}}};
    EXPECT_TRUE(says(SheetReader(place_page(plan)).paragraph("This plan warns"),
                     "This plan warns of 2: " + counted_by_rank(plan.warnings)));
    EXPECT_TRUE(says(place_page(plan), "class=\"warning rank-stop\"")) << "by the gravest";
}

TEST(AskFirst, HasEveryItemOnceTwoInARow) {
    const SheetReader sheet(ask_first_box());
    const SheetTable& table = sheet.tables.at(0);
    std::set<std::string> items;
    for (const auto& row : table.rows) {
        EXPECT_EQ(row.size(), 2u);
        items.insert(row.begin(), row.end());
    }
    EXPECT_EQ(items.size(), 10u);
}

TEST(FrontPage, TellsTheOrderOfWorkOfAllParts) {
    Plan plan;
    plan.parts.resize(2);
    for (std::size_t i = 0; i < 2; ++i) {
        Plan& part = plan.parts[i];
        part.job.part.name = i == 0 ? "from inside" : "from outside";
        part.job.damage.side = i == 0 ? job::Side::inside : job::Side::outside;
        part.job.damage.depth = 4.0;
        part.quantities.totals.laid_thickness_mm = 4.2;
        part.plies = {bare_ply(i == 0 ? 1 : 5, "mat"), bare_ply(i == 0 ? 4 : 9, "mat")};
    }
    std::vector<std::string> items = SheetReader(front_page(plan)).items;
    ASSERT_EQ(items.size(), 3u);
    EXPECT_TRUE(items[0].starts_with("cut out: the damaged laminate"));
    EXPECT_EQ(items[1],
              "from inside, laid from inside: ground to 4.00 mm (0.157 in), plies 1 to 4, "
              "4.20 mm (0.165 in) laid. Then cure, and turn over.");
    EXPECT_EQ(items[2],
              "from outside, laid from outside: ground to 4.00 mm (0.157 in), plies 5 to "
              "9, 4.20 mm (0.165 in) laid.");
    plan.core = plan::CorePlan{};
    items = SheetReader(front_page(plan)).items;
    EXPECT_TRUE(items[0].starts_with("open: the skin under the hand cut away"));
    EXPECT_TRUE(items[1].ends_with("Then cure, and the core."));
}

// Plies and cloth.

TEST(PliesPage, HasARowForEachPlyAndTheirSums) {
    Plan plan = planned();
    plan.plies[0].edge_offset_mm = -3.0;
    const SheetReader sheet(plies_page(plan));
    const SheetTable& table = table_with(sheet, "Edge beyond damage");
    ASSERT_EQ(table.rows.size(), plan.plies.size() + 1);
    EXPECT_EQ(table.rows[0][1], "1");
    EXPECT_EQ(table.rows[0][2], "mat 450");
    EXPECT_EQ(table.rows[0][4], "1.05 mm (0.041 in)");  // SOURCES.md section 2: 1.0508 mm
    EXPECT_EQ(table.rows[0][5], "3.0 mm (0.118 in) inside");
    EXPECT_EQ(table.rows[1][3], "2A · warp FORE AND AFT");
    EXPECT_TRUE(table.rows[1][5].starts_with("21.9 mm (7/8 in)"));
    EXPECT_EQ(table.rows[2][2], "mat 300 (cover)");
    EXPECT_EQ(table.rows[1][9], "0.0°") << "cloth shears";
    EXPECT_EQ(table.rows[0][9], "0.00 %") << "mat stretches";
    // The flat panel's mats and its woven ply come to 1.0508 + 0.7760 + 0.7005 mm (mass balance).
    EXPECT_EQ(table.rows[3][2], "All");
    EXPECT_EQ(table.rows[3][4], "2.53 mm (0.100 in)");
    // Glass of a woven ply is counted flat: pi 81.92^2 mm2 (and its lap none) of 600 g/m2, 12.6 g.
    EXPECT_TRUE(table.rows[1][7].starts_with("13 g")) << table.rows[1][7];
}

TEST(PliesPage, SetsFivePicturesInARow) {
    Plan plan = planned();
    while (plan.plies[0].pieces.size() < 5) plan.plies[0].pieces.push_back(plan.plies[0].pieces[0]);
    const SheetReader sheet(plies_page(plan));
    const SheetTable& pictures = sheet.tables.back();
    ASSERT_EQ(pictures.rows.size(), 2u);  // seven pieces
    EXPECT_EQ(pictures.rows[0].size(), 5u);
    EXPECT_EQ(pictures.rows[1].size(), 5u) << "filled up, so that none is wider";
    EXPECT_EQ(pictures.rows[1][2], "");
    EXPECT_TRUE(says(pictures.rows[1][1], "3A mat 300, cover most 0.00 %"));
}

TEST(Rolls, SayHowMuchOfWhichRollIsUsed) {
    Plan plan = planned();
    plan.rolls = {{"mat 450", 1250.0, 424.0, 0.53, 0.0, 5.0, {{"1A", 100.0, 100.0, 0.0}}},
                  {"mat 300", 1250.0, 0.0, 0.0, 0.0, 5.0, {}}};
    const SheetReader sheet(rolls(plan));
    ASSERT_EQ(sheet.paragraphs.size(), 1u) << "a roll without a piece is not cut";
    EXPECT_EQ(sheet.paragraphs[0],
              "mat 450: 424 mm (16 11/16 in) of a roll 1250 mm (49 3/16 in) "
              "wide, 53 % used, 5 mm (3/16 in) between pieces");
    plan.rolls.clear();
    EXPECT_EQ(rolls(plan), "");
}

TEST(DryFit, TearsMatAndCutsCloth) {
    Plan plan = planned();
    const auto said = [&](const std::string& begin) {
        return SheetReader(dry_fit(plan)).paragraph(begin);
    };
    EXPECT_TRUE(says(said("Tear"),
                     "Tear, before any cup is mixed: 1 of mat 300 (3A); 1 of mat 450 "
                     "(1A). Hold a ruler"));
    EXPECT_TRUE(
        says(said("Cut"), "Cut, before any cup is mixed: 1 of roving 600 (2A). Arrow along"));
    EXPECT_EQ(test::count(dry_fit(plan), "id=\"torn-band\""), 1u) << "both mats tear by 20 mm";
    plan.job.fabrics["mat 300"].tear_margin = 15.0;
    EXPECT_EQ(test::count(dry_fit(plan), "id=\"torn-band\""), 2u);
    plan.job.fabrics["mat 300"].tear_margin = 0.0;
    EXPECT_EQ(test::count(dry_fit(plan), "id=\"torn-band\""), 1u) << "no band, no picture";
    plan.job.layup.copies = 2;
    EXPECT_TRUE(says(said("Tear"), "Tear, 2 times, before"));
    plan.job.damage.side = job::Side::inside;
    EXPECT_TRUE(says(said("Dry fit"), "Dry fit, laid from the inside:"));
}

// Stand-ins.

std::map<std::string, std::vector<std::string>> stand_ins_of(const Plan& plan) {
    const SheetReader sheet(stand_ins(plan));
    std::map<std::string, std::vector<std::string>> out;
    for (const auto& row : table_with(sheet, "Rests on").rows) out[row[0]] = row;
    return out;
}

TEST(StandIns, AreOnlyWhatTheJobDoesNotGive) {
    Plan plan = planned();
    const std::size_t all = stand_ins_of(plan).size();
    plan.job.lines["resin.waste"] = 12;
    plan.job.lines["scarf.ratio"] = 13;
    EXPECT_EQ(stand_ins_of(plan).size(), all - 2);
}

TEST(StandIns, ShareARowWhereTwoClothsHaveTheSameFigure) {
    Plan plan = planned();
    bool together = false, apart = false;
    for (const auto& [name, row] : stand_ins_of(plan))
        together = together || (name.ends_with(": mat 300, mat 450") && row[1] == "30 %");
    EXPECT_TRUE(together);
    plan.job.fabrics["mat 300"].glass_content = 0.25;
    for (const auto& [name, row] : stand_ins_of(plan))
        apart = apart || (name.ends_with(": mat 300") && row[1] == "25 %");
    EXPECT_TRUE(apart);
}

TEST(StandIns, SayWhatPartOfAStageAWallTakesEvenWhereTheStageIsGiven) {
    Plan plan = planned();
    EXPECT_FALSE(stand_ins_of(plan).contains("Of what is laid at once, on a wall"));
    plan.job.layup.position = job::Position::vertical;
    plan.job.lines["shop.stage_thickness"] = 3;
    EXPECT_EQ(stand_ins_of(plan).at("Of what is laid at once, on a wall")[1], "three quarters");
    plan.job.layup.position = job::Position::overhead;
    EXPECT_EQ(stand_ins_of(plan).at("Of what is laid at once, overhead")[1], "half");
}

TEST(StandIns, ShowNoDensityThatAnEpoxyDoesNotHave) {
    const auto polyester = stand_ins_of(planned()), epoxy = stand_ins_of(planned(make_epoxy));
    const auto with = [](const auto& rows, const std::string& figure) {
        return std::count_if(rows.begin(), rows.end(),
                             [&](const auto& row) { return row.second[1] == figure; });
    };
    EXPECT_EQ(with(polyester, "1.13 g/mL"), 1);
    EXPECT_EQ(with(polyester, "1 to 2 %"), 1);
    EXPECT_EQ(with(epoxy, "1.13 g/mL"), 0);
    EXPECT_EQ(with(epoxy, "1.15 g/mL"), 1) << "how it cures alone";
}

// The overview.

TEST(Overview, HasOneTemplateAPieceUnderItsOwnId) {
    Plan plan = planned();
    const std::string svg = overview_svg(plan);
    for (const char* id : {"<g id=\"t1A\">", "<g id=\"t2A\">", "<g id=\"t3A\">"})
        EXPECT_EQ(test::count(svg, id), 1u) << id;
    EXPECT_TRUE(says(svg, "mat 300, cover · 0.00 %"));
    EXPECT_TRUE(says(svg, "3 plies in 3 pieces"));
    plan.plies.resize(1);
    EXPECT_TRUE(says(overview_svg(plan), "1 ply in 1 piece  ·"));
    plan.job.display_units = job::Units::us;
    EXPECT_TRUE(says(overview_svg(plan), " ft², "));
    EXPECT_FALSE(says(overview_svg(plan), " m²"));
}

TEST(Overview, KeepsALongTitleOnItsPageInSmallerLettersThenShortened) {
    const auto title_of = [](const std::string& title) {
        Plan plan = planned();
        plan.job.title = title;
        const std::string svg = overview_svg(plan);
        const auto at = svg.find("<text x=\"12\" y=\"18\"");
        return svg.substr(at, svg.find("</text>", at) - at);
    };
    EXPECT_TRUE(says(title_of("Curlew"), "font-size=\"9\""));
    EXPECT_TRUE(says(title_of(std::string(64, 'n')), "font-size=\"6.5\""));
    const std::string cut = title_of(std::string(150, 'n') + "ö");
    EXPECT_TRUE(cut.ends_with("n…")) << cut;
    // 396 mm less the model's name: no letter n of this size is narrower than 2 mm.
    EXPECT_LT(test::count(cut, "n"), 200u);
    EXPECT_TRUE(title_of(std::string(149, 'n') + "öööööööööööö").ends_with("…"));
}

}  // namespace
}  // namespace tearline::job_sheet
