#include <gtest/gtest.h>

#include "core/job_sheet/sheet_parts.h"
#include "tests/support/words_in.h"
#include "tests/unit/job_sheet/sheet_plan.h"

namespace tearline::job_sheet {
namespace {

using quantities::ShoppingItem;
using test::says;
using test::SheetReader;
using test::SheetTable;

Plan to_buy(const ShoppingItem& item) {
    Plan plan;
    plan.shopping.items = {item};
    return plan;
}

SheetTable shopping(const Plan& plan) {
    return table_with(SheetReader(shopping_list(plan)), "To buy");
}

TEST(ShoppingList, NeverBuysARollShorterThanItsPieces) {
    // 424 mm are 0.43 m and, at 914.4 mm a yard, 0.464 yd: 0.42 m and 0.46 yd would fall short.
    Plan plan = to_buy({"cloth", "mat 450", 0.424, "m", 0, 0.0, {}, {}});
    plan.rolls = {{"roving 600", 1000.0, 90.0, 0.5, 0.0, 0.0, {}},
                  {"mat 450", 1250.0, 424.0, 0.5, 0.0, 0.0, {}}};
    EXPECT_EQ(shopping(plan).rows[0][2], "0.43 m of roll (0.47 yd), 1250 mm (49 3/16 in) wide");
    plan.job.display_units = job::Units::us;
    EXPECT_EQ(shopping(plan).rows[0][2], "0.47 yd (0.43 m of roll), 49 3/16 in (1250 mm) wide");
    plan.shopping.items[0].amount = 0.42;  // as it is, to the digit
    EXPECT_TRUE(says(shopping(plan).rows[0][2], "(0.42 m of roll)"));
}

TEST(ShoppingList, CountsCansAndCallsUsOnesByTheirName) {
    ShoppingItem item{"resin", "resin", 1200.0, "g", 2, 1000.0, {}, "1 qt"};
    EXPECT_EQ(shopping(to_buy(item)).rows[0][3], "2 quarts");
    item.packs = 1;
    EXPECT_EQ(shopping(to_buy(item)).rows[0][3], "1 quart");
    item.pack_text = "1 gal";
    EXPECT_EQ(shopping(to_buy(item)).rows[0][3], "1 gallon");
    item.pack_text = "5 <kg>";
    EXPECT_EQ(shopping(to_buy(item)).rows[0][3], "1 can of 5 <kg>");
    item.packs = 3;
    EXPECT_EQ(shopping(to_buy(item)).rows[0][3], "3 cans of 5 <kg>");
    item.packs = 0;
    EXPECT_EQ(shopping(to_buy(item)).rows[0][3], "");
}

TEST(ShoppingList, ShowsASmallMassInTenthsAndAVolumeAsOne) {
    // By hand: 99.96 g are 3.5 oz; 250 mL / 29.5735 are 8.45 fl oz.
    EXPECT_EQ(shopping(to_buy({"hardener", "h", 14.44, "g", 0, 0.0, {}, {}})).rows[0][2],
              "14.4 g (0.509 oz wt)");
    EXPECT_EQ(shopping(to_buy({"resin", "r", 144.4, "g", 0, 0.0, {}, {}})).rows[0][2],
              "144 g (5.1 oz wt)");
    EXPECT_EQ(shopping(to_buy({"fairing", "f", 250.0, "mL", 0, 0.0, {}, {}})).rows[0][2],
              "250 mL (8.45 fl oz)");
}

TEST(ShoppingList, SumsOnlyWhatHasAPriceAndSaysSo) {
    Plan plan = to_buy({"resin", "r", 100.0, "g", 1, 1000.0, 12.5, "1 kg"});
    EXPECT_EQ(shopping(plan).head.back(), "Price");
    EXPECT_EQ(shopping(plan).rows.size(), 1u);
    plan.shopping.items.push_back({"hardener", "h", 10.0, "g", 0, 0.0, {}, {}});
    plan.shopping.cost = 12.5;
    plan.shopping.currency = "NOK";
    SheetTable table = shopping(plan);
    EXPECT_EQ(table.head.back(), "Cost");
    EXPECT_EQ(table.rows[0][4], "12.50 NOK");
    EXPECT_EQ(table.rows[1][4], "________");
    EXPECT_EQ(table.rows[2][1], "Of what has a price");
    EXPECT_EQ(table.rows[2][4], "12.50 NOK");
    plan.shopping.complete = true;
    EXPECT_EQ(shopping(plan).rows[2][1], "All");
}

TEST(ShoppingList, SaysForHowManyCopiesAndThatABoatBuysTogether) {
    Plan plan = to_buy({"resin", "r", 100.0, "g", 1, 1000.0, {}, "1 kg"});
    EXPECT_EQ(SheetReader(shopping_list(plan)).headings[0], "Shopping list");
    EXPECT_EQ(SheetReader(shopping_list(plan)).paragraph("This place alone"), "");
    plan.job.layup.copies = 3;
    plan.repair = "bow";
    EXPECT_EQ(SheetReader(shopping_list(plan)).headings[0], "Shopping list, for 3 copies");
    EXPECT_TRUE(says(SheetReader(shopping_list(plan)).paragraph("This place alone"),
                     "use the one or the other, not both"));
    EXPECT_EQ(shopping_list(Plan{}), "");
}

TEST(Consumables, NameTheMaskAndTheCansThatTheResinAsksFor) {
    // SOURCES.md section 7: rags with peroxide never in the can of those with acetone.
    Plan plan = planned();
    const std::string polyester = SheetReader(consumables_list(plan)).paragraph("Tools:");
    EXPECT_TRUE(says(polyester, "mask (A2-P3 for vapour and dust †)"));
    EXPECT_TRUE(says(polyester, "two metal cans with water for rags"));
    const std::string epoxy =
        SheetReader(consumables_list(planned(make_epoxy))).paragraph("Tools:");
    EXPECT_TRUE(says(epoxy, "mask (P3 for dust †)"));
    EXPECT_TRUE(says(epoxy, "metal can with water for rags"));
    EXPECT_FALSE(says(epoxy, "two metal cans"));
}

laminate::Comparison compared() {
    laminate::Comparison comparison;
    laminate::Behaviour old;
    old.thickness = 8.0;
    old.along = {50'000.0, 250'000.0, 600.0, 700.0, 900.0};
    old.across = {40'000.0, 200'000.0, 500.0, 650.0, 800.0};
    comparison.before = old;
    comparison.patch = old;
    comparison.patch.thickness = 8.4;
    comparison.patch.along.membrane_stiffness = 55'000.0;
    comparison.ratios = laminate::Ratios{1.0, 1.02, 1.03, 1.04, 1.05};
    comparison.verdict = "It bears as much.";
    return comparison;
}

TEST(LaminateCheck, ShowsEachFigureInItsUnitAlongAndAcross) {
    // By hand: 50 000 N/mm are 50 kN/mm; 250 000 N mm are 250 N m. A pound-force is 4.448222 N:
    // 50 000 / 4.448222 x 25.4 = 285 503 lb/in; 250 000 / 4.448222 / 25.4 = 2213 lb in; 600 N/mm
    // are 3426 lb/in; 900 N are 202 lb.
    Plan plan;
    plan.comparison = compared();
    SheetTable table = table_with(SheetReader(laminate_check(plan)), "New / old");
    EXPECT_EQ(table.row("Membrane stiffness, kN/mm"),
              (std::vector<std::string>{"Membrane stiffness, kN/mm", "50.0 / 40.0", "55.0 / 40.0",
                                        "100 %"}));
    EXPECT_EQ(table.row("Bending stiffness, N m")[1], "250 / 200");
    EXPECT_EQ(table.row("Bending stiffness")[3], "102 %");
    EXPECT_EQ(table.row("Tension at first failure, N/mm")[1], "600 / 500");
    EXPECT_EQ(table.row("Tension")[3], "103 %");
    EXPECT_EQ(table.row("Compression at first failure, N/mm")[1], "700 / 650");
    EXPECT_EQ(table.row("Compression")[3], "104 %");
    EXPECT_EQ(table.row("Bending at first failure, N")[1], "900 / 800");
    EXPECT_EQ(table.row("Bending at first failure")[3], "105 %");
    plan.job.display_units = job::Units::us;
    table = table_with(SheetReader(laminate_check(plan)), "New / old");
    EXPECT_EQ(table.row("Membrane stiffness, 1000 lb/in")[1], "285.5 / 228.4");
    EXPECT_EQ(table.row("Bending stiffness, lb in")[1], "2213 / 1770");
    EXPECT_EQ(table.row("Tension at first failure, lb/in")[1], "3426 / 2855");
    EXPECT_EQ(table.row("Bending at first failure, lb")[1], "202 / 180");
}

TEST(LaminateCheck, SaysOfAnOldLaminateThatNobodyKnowsThatItIsNotKnown) {
    Plan plan;
    plan.comparison = compared();
    plan.comparison->before = std::nullopt;
    const SheetReader sheet(laminate_check(plan));
    EXPECT_EQ(table_with(sheet, "New / old").rows[0][1], "not known");
    EXPECT_EQ(table_with(sheet, "New / old").rows[0][3], "-");
    EXPECT_FALSE(says(sheet.paragraph("Thickness"), "before"));
}

TEST(LaminateCheck, MarksAWeakerOrMuchStifferPatchAsSomethingToDecide) {
    Plan plan;
    plan.comparison = compared();
    EXPECT_TRUE(says(laminate_check(plan), "class=\"verdict\""));
    plan.comparison->weaker = true;
    EXPECT_TRUE(says(laminate_check(plan), "class=\"warning rank-stop\""));
    plan.comparison->weaker = false;
    plan.comparison->much_stiffer = true;
    EXPECT_TRUE(says(laminate_check(plan), "class=\"warning rank-stop\""));
}

TEST(LaminateCheck, SaysWhatOfTheThicknessIsOldAndWhatIsSandedOff) {
    Plan plan;
    plan.comparison = compared();
    EXPECT_TRUE(says(SheetReader(laminate_check(plan)).paragraph("Thickness"),
                     "Thickness 8.00 mm (0.315 in) before, 8.40 mm (0.331 in) new, topcoat"));
    plan.comparison->floor_mm = 2.0;
    plan.comparison->sanded_off_mm = 1.4;
    EXPECT_TRUE(says(SheetReader(laminate_check(plan)).paragraph("Thickness"),
                     "new, of it 2.00 mm (0.079 in) old floor; 1.40 mm (0.055 in) more is laid and "
                     "sanded off, topcoat"));
}

TEST(LaminateCheck, ShowsTheScarfsStressesInBothUnits) {
    // 1 psi is 0.00689476 MPa: 85 MPa are 12 328 psi, 7.03 MPa 1020.
    Plan plan;
    laminate::ScarfCheck check;
    check.laminate_strength = 85.0;
    check.strength_of = "the patch";
    check.ratio = 12.0;
    check.safety_factor = 1.5;
    check.bond_stress = 7.03;
    check.peel_stress = 0.586;
    check.peel_share = 1.0 / 12.0;
    check.verdict = "Screened.";
    plan.scarf_check = check;
    SheetTable table = table_with(SheetReader(laminate_check(plan)), "Ratio chosen");
    EXPECT_EQ(table.row("Ratio chosen")[1], "12.0 : 1");
    EXPECT_EQ(table.row("even shear")[1], "not known: no strength of the bond is given");
    EXPECT_EQ(table.row("Strength of the patch")[1],
              "85.0 MPa (12328 psi), safety factor 1.5 on a bond of unknown strength");
    EXPECT_EQ(table.row("Shear and peel")[1],
              "7.03 MPa (1020 psi) and 0.59 MPa (85 psi); peel is 8.3 % of the shear");
    plan.scarf_check->bond_shear = 8.0;
    plan.scarf_check->required_ratio = 15.9;
    table = table_with(SheetReader(laminate_check(plan)), "Ratio chosen");
    EXPECT_EQ(table.row("even shear")[1], "15.9 : 1");
    EXPECT_TRUE(table.row("Strength of")[1].ends_with("on a bond of 8.0 MPa (1160 psi)"));
}

TEST(Records, HaveARowForEachStageTheTopcoatAndNoFewerThanFour) {
    Plan plan;
    plan.job.resin = job::resin_of_kind(job::ResinKind::epoxy);
    const auto first_cells = [&] {
        const SheetReader sheet(records(plan));
        std::vector<std::string> out;
        for (const auto& row : sheet.tables.at(0).rows) out.push_back(row[0]);
        return out;
    };
    EXPECT_EQ(first_cells(), (std::vector<std::string>{"", "", "", ""}));
    plan.quantities.stages.resize(2);
    EXPECT_EQ(first_cells(), (std::vector<std::string>{"1", "2", "", ""}));
    plan.job.resin.kind = job::ResinKind::polyester;
    EXPECT_EQ(first_cells(), (std::vector<std::string>{"1", "2", "topcoat", ""}));
    plan.quantities.stages.resize(5);
    EXPECT_EQ(first_cells(), (std::vector<std::string>{"1", "2", "3", "4", "5", "topcoat"}));
}

}  // namespace
}  // namespace tearline::job_sheet
