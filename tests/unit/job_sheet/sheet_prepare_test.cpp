#include <gtest/gtest.h>

#include <cmath>

#include "core/job_sheet/sheet_parts.h"
#include "tests/support/words_in.h"
#include "tests/unit/job_sheet/sheet_plan.h"

namespace tearline::job_sheet::sheet_prepare_test {
namespace {

using test::says;
using test::SheetReader;
using test::SheetTable;

/// 2 mm deep at 12 : 1, with what the test cup needs.
Plan shallow() {
    Plan plan;
    plan.job.damage.depth = 2.0;
    plan.job.resin.hardener_percent = 1.25;
    return plan;
}

std::string line(const Plan& plan, const std::string& begin) {
    return SheetReader(grinding(plan)).paragraph(begin);
}

TEST(Grinding, SaysTheRatioThatTheJobAsksForToItsDigit) {
    // 12.5 : 1 of 2 mm are 25 mm; "12 : 1" would be steeper than what was asked for.
    Plan plan = shallow();
    EXPECT_TRUE(says(line(plan, "Grind to"),
                     "to 2.00 mm (0.079 in) inside the outline, tapering to nothing 24.0 mm "
                     "(15/16 in) outside it (12 : 1), by the rings"));
    plan.job.scarf.ratio = 12.5;
    EXPECT_TRUE(says(line(plan, "Grind to"),
                     "tapering to nothing 25.0 mm (31/32 in) outside it (12.5 : 1), by"));
    // Where the dish is known its own edge counts, wider than the ratio's by a least step.
    plan.place.dish = {{0.0, 2.0}, {10.0, 1.0}, {40.0, 0.0}};
    EXPECT_TRUE(says(line(plan, "Grind to"), "nothing 40.0 mm (1 9/16 in) outside it"));
}

TEST(Grinding, RemindsOfTheSkinThatTheJobTells) {
    Plan plan = shallow();
    EXPECT_TRUE(line(plan, "Grind to").ends_with("Skin measured: ________."));
    plan.job.hull.skin = 8.0;
    EXPECT_TRUE(line(plan, "Grind to")
                    .ends_with("Skin measured: ________, the job says 8.00 mm (0.315 in)."));
}

TEST(Grinding, SaysWhatThePliesAreLaidOn) {
    Plan plan = shallow();
    EXPECT_NE(line(plan, "If it goes through: a backing"), "");
    plan.warnings.push_back({warn::NoFloor{8.0, 6.0}});
    EXPECT_NE(line(plan, "Backing: this dish goes right through."), "");
    EXPECT_EQ(line(plan, "If it goes through"), "");
    // A part on glass that another part laid: on the core, on the back of the first side, or on a
    // backing.
    plan.job.part.on_new = true;
    EXPECT_NE(line(plan, "Backing in place, by the part on holes right through"), "");
    plan.job.scarf.from = job::ScarfFrom::both;
    plan.job.scarf.first = job::Side::inside;
    plan.job.damage.side = job::Side::inside;
    EXPECT_NE(line(plan, "Backing in place"), "") << "the side laid first lies on the backing";
    plan.job.damage.side = job::Side::outside;
    EXPECT_NE(line(plan, "Floor: the back of the side laid first, cured, tapped"), "");
    plan.job.core = job::Core{};
    EXPECT_NE(line(plan, "Floor: the new core, hard, faired"), "");
    plan.job.part.below = 20.0;  // the far skin lies under the core, not on it
    EXPECT_EQ(line(plan, "Floor: the new core"), "");
}

TEST(Grinding, CleansEpoxyOfItsBlushAndPolyesterWithAcetoneThatGoesAway) {
    Plan plan = shallow();
    EXPECT_TRUE(says(line(plan, "Clean"), "go away before the hardener is opened"));
    make_epoxy(plan.job);
    EXPECT_TRUE(says(line(plan, "Clean"), "wash with water (blush, salt)"));
    EXPECT_FALSE(says(line(plan, "Clean"), "acetone"));
}

TEST(Grinding, NeverRoundsTheLeastTemperatureDown) {
    Plan plan = shallow();
    plan.job.shop.temperature = Celsius(21.0);
    plan.job.resin.least_temperature = Celsius(15.4);
    EXPECT_TRUE(
        says(line(plan, "Warm"), "at 21 °C (70 °F), never below 15.4 °C (60 °F). Air ______"));
}

/// Pressure of saturated vapour [hPa] by Magnus' formula.
double vapour(double celsius) {
    return 6.112 * std::exp(17.62 * celsius / (243.12 + celsius));
}

TEST(DewTable, ShowsTheColdestSurfaceThreeDegreesAboveTheDewPoint) {
    // Second way: at the dew point the saturated vapour's pressure is the air's humidity times that
    // at its own temperature, found by halving. 3 degrees above it: common practice.
    Plan plan = shallow();
    plan.job.shop.temperature = Celsius(22.0);
    const SheetReader sheet(grinding(plan));
    const SheetTable& table = table_with(sheet, "Humidity 50 %");
    ASSERT_EQ(table.rows.size(), 3u);
    const std::array<double, 3> airs = {17.0, 22.0, 27.0};
    const std::array<double, 5> humidities = {50, 60, 70, 80, 90};
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_EQ(table.rows[i][0], std::to_string(int(airs[i])) + ".0 °C");
        for (std::size_t k = 0; k < 5; ++k) {
            double low = -40.0, high = airs[i];
            for (int step = 0; step < 60; ++step) {
                const double middle = 0.5 * (low + high);
                (vapour(middle) < humidities[k] / 100.0 * vapour(airs[i]) ? low : high) = middle;
            }
            EXPECT_NEAR(std::stod(table.rows[i][k + 1]), low + 3.0, 0.051) << i << " " << k;
        }
    }
    plan.job.display_units = job::Units::us;  // 22 C are 71.6 F, 3 degrees of C are 5.4 of F
    const SheetReader in_us(grinding(plan));
    EXPECT_EQ(table_with(in_us, "Humidity 50 %").rows[1][0], "71.6 °F");
    EXPECT_TRUE(says(in_us.paragraph("Dew:"), "the surface at least 5.4 °F above the dew point"));
}

TEST(Grinding, RoundsTheHullsEdgeOnlyWhereClothGoesOverIt) {
    Plan plan = shallow();
    EXPECT_EQ(line(plan, "Round the hull's edge"), "");
    plan.place.lap = plan::LapView{};
    plan.place.lap->radius_mm = 12.0;
    plan.place.lap->ground_radius_mm = 9.9;
    plan.place.lap->ground_over_mm = 70.0;
    const std::string words = line(plan, "Round the hull's edge");
    EXPECT_TRUE(says(words,
                     "to a radius of 9.9 mm (3/8 in), even all along (the glass brings it "
                     "to 12.0 mm (15/32 in))"));
    EXPECT_TRUE(says(words, "It begins where the model ends."));
    EXPECT_TRUE(says(words, "grind the face over 70.0 mm (2 3/4 in) from where the round ends"));
    plan.job.damage.end = {{0, 0, 0}, {1, 0, 0}};
    EXPECT_TRUE(says(line(plan, "Round the hull's edge"), "It begins where the end was measured."));
}

TEST(Grinding, MixesTheTestCupAsTheOthersAre) {
    // 100 g (common practice) at 1.25 % are 1.25 g: on the scale 1.3 g, half of whose division is
    // 0.05.
    const std::string words = line(shallow(), "Test cup");
    EXPECT_TRUE(says(words,
                     "mixed as the others are: 100 g (3.5 oz wt) of resin. Resin 100 g "
                     "(3.53 oz wt) scale; hardener "))
        << words;
    EXPECT_TRUE(says(words, "Keep it as the witness of cure."));
}

TEST(Preparation, TakesOffWhatIsOnTheSideAtHand) {
    Plan plan = shallow();
    const auto strip = [&] { return SheetReader(preparation(plan)).paragraph("Strip"); };
    EXPECT_TRUE(says(strip(), "wet-sand antifouling"));
    plan.job.damage.side = job::Side::inside;
    EXPECT_TRUE(says(strip(), "paint and grease off"));
    EXPECT_FALSE(says(strip(), "antifouling"));
}

TEST(Preparation, GoesRoundEachFittingAsTheJobSays) {
    Plan plan = shallow();
    EXPECT_EQ(SheetReader(preparation(plan)).paragraph("Fittings"), "");
    damage::KeptOpening opening;
    opening.width = 50.0;
    opening.height = 40.0;
    opening.clear = 2.0;
    plan.place.openings = {opening};
    std::string words = SheetReader(preparation(plan)).paragraph("Fittings");
    EXPECT_TRUE(says(words, "the cloth goes round an opening."));
    EXPECT_TRUE(says(words, "A seacock or skin fitting: ask first."));
    EXPECT_TRUE(
        words.ends_with("1: 50.0 mm (1 31/32 in) by 40.0 mm (1 9/16 in), ground to full "
                        "depth up to its edge, cloth 2.0 mm (0.079 in) clear of it."));
    opening.scarf_to = job::ScarfTo::opening;
    opening.slit = true;
    plan.place.openings.push_back(opening);
    words = SheetReader(preparation(plan)).paragraph("Fittings");
    EXPECT_TRUE(says(words, "round 2 openings."));
    EXPECT_TRUE(says(words,
                     "2: 50.0 mm (1 31/32 in) by 40.0 mm (1 9/16 in), the scarf rises to "
                     "nothing at its edge, cloth 2.0 mm (0.079 in) clear of it, each ply "
                     "slit from that hole"));
}

}  // namespace
}  // namespace tearline::job_sheet::sheet_prepare_test
