#include "core/job_sheet/sheet_words.h"

#include <gtest/gtest.h>

namespace tearline::job_sheet::sheet_words_test {
namespace {

Plan of(job::Units units) {
    Plan plan;
    plan.job.display_units = units;
    return plan;
}

const Plan metric = of(job::Units::metric), us = of(job::Units::us);

TEST(SheetWords, PutTheJobsOwnUnitsFirst) {
    // By hand: 25.4 mm an inch, 28.3495 g an ounce, 29.5735 mL a fluid ounce, 0.09290304 m2 a ft2.
    EXPECT_EQ(length(metric, 25.4 * 3.5), "88.9 mm (3 1/2 in)");
    EXPECT_EQ(length(us, 25.4 * 3.5), "3 1/2 in (88.9 mm)");
    EXPECT_EQ(thickness(metric, 1.0508), "1.05 mm (0.041 in)");
    EXPECT_EQ(thickness(us, 1.0508), "0.041 in (1.05 mm)");
    EXPECT_EQ(volume(metric, 100.0), "100.0 mL (3.38 fl oz)");
    EXPECT_EQ(warmth(metric, Celsius(20.0)), "20 °C (68 °F)");
    EXPECT_EQ(warmth(us, Celsius(20.0)), "68 °F (20 °C)");
}

TEST(SheetWords, ShowAnAreaInHandsBreadthsWhereItIsSmall) {
    EXPECT_EQ(square(metric, 0.25), "0.250 m² (2.69 ft²)");
    EXPECT_EQ(square(us, 0.25), "2.69 ft² (0.250 m²)");
    // 50 cm2 = 7.75 in2; a hundredth of a m2 is the first in m2.
    EXPECT_EQ(square(metric, 0.005), "50.0 cm² (7.75 in²)");
    EXPECT_EQ(square(metric, 0.01), "0.010 m² (0.11 ft²)");
}

TEST(SheetWords, GiveAMassAsManyPlacesAsItNeeds) {
    EXPECT_EQ(mass(metric, 1155.0), "1155 g (2 lb 8.7 oz wt)");
    EXPECT_EQ(mass(metric, 12'345.0), "12.35 kg (27 lb 3.5 oz wt)");
    EXPECT_EQ(mass(metric, 3.14), "3.1 g (0.111 oz wt)");
    EXPECT_EQ(mass(metric, 0.047), "0.05 g (0.0017 oz wt)");
    EXPECT_EQ(mass(us, 453.59237 * 3), "3 lb 0.0 oz wt (1361 g)");
}

TEST(SheetWords, ShowAMixtureByTheBasisOfItsDataSheet) {
    Plan plan = metric;
    EXPECT_EQ(mixture(plan, 99.94), "99.9 g (3.5 oz wt)");
    plan.job.resin.hardener_basis = job::Basis::volume;
    plan.job.resin.density = GramsPerMillilitre(1.13);
    EXPECT_EQ(mixture(plan, 113.0), "100 mL (3.38 fl oz)");
    EXPECT_EQ(mixture(plan, 11.3), "10.0 mL (0.338 fl oz)");
}

TEST(SheetWords, BreakAFigureBeforeItsBracketAlone) {
    EXPECT_EQ(unbroken("88.9 mm (3 1/2 in)"), "88.9&#160;mm (3&#160;1/2&#160;in)");
    EXPECT_EQ(unbroken("plain"), "plain");
    EXPECT_EQ(unbroken(""), "");
}

TEST(SheetWords, MakeElementsThatCloseWhatTheyOpen) {
    EXPECT_EQ(tag("p", "x"), "<p>x</p>");
    EXPECT_EQ(tag("td", "x", "colspan=\"2\""), "<td colspan=\"2\">x</td>");
    EXPECT_EQ(keep("one line"), "<span class=\"keep\">one line</span>");
    EXPECT_EQ(blank(4), "<span class=\"blank\">____</span>");
}

TEST(SheetWords, SayWaysToMeasureOnOneLine) {
    EXPECT_EQ(in_line("1.3 g scale<br/>or 1.1 mL syringe<br/>or 30 drops"),
              "1.3 g scale or 1.1 mL syringe or 30 drops");
}

TEST(SheetWords, NameADoseWithItsToolAndItsOtherWays) {
    // By hand: 2.9 g is 0.102 oz wt; a 3 mL syringe shows tenths.
    quantities::Cup cup;
    EXPECT_EQ(dose(cup), "by the data sheet");
    cup.hardener_by = quantities::Measured{quantities::Tool::scale, 2.9};
    EXPECT_EQ(dose(cup),
              "<span class=\"keep\"><b>2.9 g</b> (0.102 oz wt)</span> "
              "<span class=\"keep\">scale</span>");
    cup.hardener_or = quantities::Measured{quantities::Tool::syringe_3, 2.5};
    cup.drops = 75;
    const std::string all = dose(cup);
    EXPECT_NE(all.find("<br/>or <span class=\"keep\"><b>2.5 mL</b>"), std::string::npos) << all;
    EXPECT_NE(all.find("3-mL syringe"), std::string::npos);
    EXPECT_TRUE(all.ends_with("<br/>or <span class=\"keep\"><b>75 drops</b></span>")) << all;
}

TEST(SheetWords, WeighWhatIsPouredUnlessItIsMeasuredByVolume) {
    quantities::Cup cup;
    cup.pour_g = 143.21;
    cup.resin_by = quantities::Measured{quantities::Tool::scale, 143.2};
    EXPECT_EQ(poured(metric, cup), "<span class=\"keep\"><b>143 g</b> (5.05 oz wt)</span> scale");
    cup.resin_by = quantities::Measured{quantities::Tool::jug, 125.0};
    EXPECT_NE(poured(metric, cup).find("<b>125 mL</b>"), std::string::npos) << poured(metric, cup);
    EXPECT_NE(poured(metric, cup).find("measuring jug"), std::string::npos);
}

TEST(SheetWords, SayWhatAMixtureIsOf) {
    Plan plan = metric;
    EXPECT_EQ(mixture_words(plan), "resin");
    plan.job.resin.kind = job::ResinKind::epoxy;
    EXPECT_EQ(mixture_words(plan), "resin and hardener together");
}

}  // namespace
}  // namespace tearline::job_sheet::sheet_words_test
