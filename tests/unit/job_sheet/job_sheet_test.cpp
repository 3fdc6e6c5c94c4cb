#include "core/job_sheet/job_sheet.h"

#include <gtest/gtest.h>

#include <cmath>
#include <regex>

#include "core/formats/svg.h"
#include "core/job_sheet/cautions.h"
#include "core/warnings/warning.h"
#include "tests/support/words_in.h"
#include "tests/unit/job_sheet/sheet_plan.h"

namespace tearline::job_sheet {
namespace {

using test::count;
using test::says;

TEST(JobSheet, AsksFirstWithABoxForEachWhateverTheJob) {
    // SOURCES.md section 7: printed always, with tick boxes (46 CFR 176.665 for inspected
    // vessels).
    for (const bool epoxy : {false, true}) {
        const std::string sheet = job_sheet(planned(epoxy ? make_epoxy : [](job::Job&) {}));
        EXPECT_EQ(ask_first().size(), 10u);
        for (const std::string_view item : ask_first())
            EXPECT_TRUE(says(sheet, "</svg>&#160; " + formats::escaped(item))) << item;
        EXPECT_TRUE(says(sheet, "46 CFR 176.665"));
        EXPECT_TRUE(says(sheet, "licensed practice"));
        for (const char* words : {"Deck-to-hull joint", "Blisters", "must it be reinforced?"})
            EXPECT_TRUE(says(sheet, words)) << words;
    }
}

TEST(JobSheet, EveryCupHasItsRowWithABoxAndAPlaceForTheTime) {
    const Plan plan = planned();
    std::size_t cups = plan.quantities.topcoat_cups.size();
    for (const quantities::Stage& stage : plan.quantities.stages)
        for (const quantities::Cup& cup : stage.cups) cups += cup.mix_resin_g > 0.0 ? 1 : 0;
    ASSERT_GT(cups, 2u);
    const std::string sheet = job_sheet(plan);
    const std::regex row("</svg></td><td><span class=\"keep\">cup \\d+ of \\d+");
    EXPECT_EQ(std::distance(std::sregex_iterator(sheet.begin(), sheet.end(), row),
                            std::sregex_iterator()),
              static_cast<std::ptrdiff_t>(cups));
    EXPECT_TRUE(says(sheet, "Mixed at"));
}

TEST(JobSheet, EveryWarningOfThePlanStandsOnIt) {
    const Plan plan = planned([](job::Job& job) {
        job.resin.waxed = true;
        job.shop.stage_thickness = 1.1;
        job.shop.hours_between_stages = Hours(50.0);
    });
    ASSERT_GT(plan.warnings.size(), 4u);
    const std::string sheet = job_sheet(plan);
    for (const Warning& warning : plan.warnings) {
        // In plain words; what begins with the ply or the piece has that in bold, and a capital.
        std::string words = warning.words().plain(plan.job.display_units).substr(1);
        if (warning.piece) words.erase(0, words.find(*warning.piece) + warning.piece->size());
        EXPECT_TRUE(says(sheet, formats::escaped(words))) << words;
    }
    EXPECT_TRUE(says(sheet, counted_by_rank(plan.warnings)));
}

TEST(JobSheet, WarningsNameTheirPlyOnce) {
    Plan plan = planned();
    plan.warnings = {
        {.cause = warn::LaidInPieces{"roving 600", false, 2, 50.0, {}}, .ply = 2},
        {.cause = warn::RovingOnGround{"roving 600"}, .ply = 1},
        {.cause = warn::ShearNearLimit{"roving 600", 29.0, 30.0}, .ply = 2, .piece = "2B"}};
    const std::string sheet = job_sheet(plan);
    for (const char* words : {">Ply 2</b> (roving 600) is cut", ">Ply 1</b>: roving 600 lies",
                              ">Piece 2B</b> of roving 600 shears"})
        EXPECT_TRUE(says(sheet, words)) << words;
}

TEST(JobSheet, ScaleOfStrainStandsWithTheTemplates) {
    const std::string sheet = job_sheet(planned());
    const auto templates = sheet.find("Templates, in the order of laying");
    const auto bar = sheet.find("id=\"strain-scale\"");
    ASSERT_NE(bar, std::string::npos);
    EXPECT_GT(bar, templates);
    EXPECT_TRUE(says(sheet.substr(bar), "What the mat must stretch"));
    EXPECT_TRUE(says(sheet.substr(bar), ">0 %<"));
}

TEST(JobSheet, CautionsStandInTheOrderInWhichTheyMatter) {
    const Plan plan = planned();
    const std::string sheet = job_sheet(plan);
    std::size_t last = 0;
    for (const Caution& caution : cautions(plan.job)) {
        const auto at = sheet.find(formats::escaped(caution.heading));
        ASSERT_NE(at, std::string::npos) << caution.heading;
        EXPECT_GT(at, last);
        last = at;
    }
}

struct UnitPair {
    std::string metric, us;
    double factor = 1.0;  ///< metric in one US unit, exact
};

/// Half a unit of the last digit written.
double half_digit(const std::string& text) {
    const auto point = text.find('.');
    return point == std::string::npos ? 0.5
                                      : 0.5 * std::pow(10.0, -double(text.size() - point - 1));
}

/// How many figures are given in both units; each pair must agree to rounding.
std::size_t agreeing(const std::string& sheet, const UnitPair& pair, bool metric_first) {
    const std::string metric = "([0-9.]+) " + pair.metric;
    const std::string us = "(?:([0-9]+) lb )?([0-9.]+) " + pair.us;
    const std::regex both(metric_first ? metric + " \\(" + us + "\\)"
                                       : us + " \\(" + metric + "\\)");
    std::size_t seen = 0;
    for (std::sregex_iterator i(sheet.begin(), sheet.end(), both), end; i != end; ++i, ++seen) {
        const std::string in_metric = (*i)[metric_first ? 1 : 3];
        const std::string pounds = (*i)[metric_first ? 2 : 1], in_us = (*i)[metric_first ? 3 : 2];
        const double ounces = (pounds.empty() ? 0.0 : 16.0 * std::stod(pounds)) + std::stod(in_us);
        EXPECT_NEAR(std::stod(in_metric), ounces * pair.factor,
                    half_digit(in_metric) + half_digit(in_us) * pair.factor + 1e-9)
            << (*i).str();
    }
    return seen;
}

/// How many lengths are given in both units; inches to 1/1000, 1/32 or 1/16, each within half of
/// that and half of the last digit of the mm.
std::size_t agreeing_lengths(const std::string& sheet, bool metric_first) {
    const std::string metric = "([0-9.]+) mm";
    const std::string us = "(?:([0-9]+) )?(?:([0-9]+)/([0-9]+)|([0-9.]+)) in";
    const std::regex both(metric_first ? metric + " \\(" + us + "\\)"
                                       : us + " \\(" + metric + "\\)");
    const std::size_t m = metric_first ? 1 : 5, u = metric_first ? 2 : 1;
    std::size_t seen = 0;
    for (std::sregex_iterator i(sheet.begin(), sheet.end(), both), end; i != end; ++i, ++seen) {
        const auto number = [&](std::size_t group) {
            return (*i)[group].matched ? std::stod((*i)[group]) : 0.0;
        };
        const double inches =
            number(u) + number(u + 3) + ((*i)[u + 2].matched ? number(u + 1) / number(u + 2) : 0.0);
        const bool decimal = (*i)[u + 3].str().find('.') != std::string::npos;
        const double mark = decimal ? 1.0 / 1000.0 : inches < 6.0 ? 1.0 / 32.0 : 1.0 / 16.0;
        EXPECT_NEAR(number(m), 25.4 * inches, 12.7 * mark + half_digit((*i)[m]) + 1e-9)
            << (*i).str();
    }
    return seen;
}

TEST(JobSheet, UnitsOfTheJobComeFirstAndBothAgreeToRounding) {
    for (const auto units : {job::Units::metric, job::Units::us}) {
        // The ply table's figures hold together by spaces that do not break.
        const std::string sheet = std::regex_replace(
            job_sheet(planned([&](job::Job& job) { job.display_units = units; })),
            std::regex("&#160;"), " ");
        // Exact: 28.349523125 g an ounce, 25.4 mm an inch, 29.5735295625 mL a US fluid ounce,
        // 0.09290304 m2 a square foot.
        const std::vector<UnitPair> pairs = {{"g", "oz wt", 28.349523125},
                                             {"mL", "fl oz", 29.5735295625},
                                             {"m²", "ft²", 0.09290304}};
        for (const UnitPair& pair : pairs)
            EXPECT_GT(agreeing(sheet, pair, units == job::Units::metric), 0u) << pair.us;
        EXPECT_GT(agreeing_lengths(sheet, units == job::Units::metric), 0u);
    }
}

TEST(JobSheet, DropsStandOnlyWhereTheyWereCounted) {
    EXPECT_FALSE(says(job_sheet(planned()), " drops</b>"));
    EXPECT_TRUE(says(job_sheet(planned([](job::Job& job) { job.resin.drops_per_mL = 33.0; })),
                     " drops</b>"));
}

TEST(JobSheet, WithoutGelDataATestCupIsAskedForAndNoTimeGiven) {
    const std::string blind = job_sheet(planned());
    EXPECT_TRUE(says(blind, "No time is given for the cups"));
    EXPECT_FALSE(says(blind, " min: "));
    const std::string timed = job_sheet(planned([](job::Job& job) {
        job.resin.gel_minutes = Minutes(20.0);
        job.resin.gel_at = job::GelAt{Celsius(20.0), 1.25, Grams(100.0)};
    }));
    // By hand: 0.6 of 20 minutes.
    EXPECT_TRUE(says(timed, "12 min: "));
}

TEST(JobSheet, EpoxyIsMixedByItsRatioAndGetsNoPolyesterTopcoat) {
    const std::string sheet = job_sheet(planned(make_epoxy));
    EXPECT_TRUE(says(sheet, "fixed ratio only, 5 : 1 by mass"));
    EXPECT_TRUE(says(sheet, "Wash off the blush"));
    EXPECT_FALSE(says(sheet, "Last: topcoat"));
    for (const char* word : {"MEKP", "eroxide", "obalt"}) EXPECT_FALSE(says(sheet, word)) << word;
    // The densities that the figures rest on: none are known, and the cured one is from memory.
    EXPECT_TRUE(says(sheet, "by mass only: weigh"));
    EXPECT_TRUE(says(sheet, "Cured resin 1.15 g/cm³ (from memory)"));
}

TEST(JobSheet, NoOunceIsLeftWithoutSayingWhich) {
    for (const auto units : {job::Units::metric, job::Units::us}) {
        const std::string sheet =
            job_sheet(planned([&](job::Job& job) { job.display_units = units; }));
        const std::regex bare("[0-9] oz(?! wt|/ft|/yd)");
        EXPECT_FALSE(std::regex_search(sheet, bare));
    }
}

TEST(JobSheet, EveryDoseNamesItsTool) {
    const Plan plan = planned();
    const std::string sheet = job_sheet(plan);
    // By hand: cups of at most 60 g take less than 0.75 g, which the scale does not show to 5 %.
    EXPECT_TRUE(says(sheet, "1-mL syringe, in hundredths of a mL"));
    EXPECT_TRUE(says(sheet, "mL of hardener at 1.15 g/mL, makers 1.02 to 1.18: weigh"));
    EXPECT_TRUE(says(sheet, "resin 1.13 g/mL, hardener 1.15 g/mL"));
}

TEST(JobSheet, EpoxyByVolumeIsPouredAndSaysByWhatDensity) {
    const std::string sheet = job_sheet(planned([](job::Job& job) {
        make_epoxy(job);
        job.resin.hardener_basis = job::Basis::volume;
    }));
    EXPECT_TRUE(says(sheet, "grams / 1.10 g/mL (from memory)"));
    EXPECT_TRUE(says(sheet, "by volume only"));
}

TEST(JobSheet, UsShopBuysQuarts) {
    const auto in_us = [](int copies) {
        return planned([copies](job::Job& job) {
            job.display_units = job::Units::us;
            job.resin.can = job::us_can();
            job.layup.copies = copies;
        });
    };
    EXPECT_TRUE(says(job_sheet(in_us(1)), ">1 quart<"));
    // Exact: a US quart is 946.352946 mL, at 1.13 g/mL.
    const Plan many = in_us(30);
    const double quarts = std::ceil(30.0 * many.quantities.totals.resin_g / (946.352946 * 1.13));
    EXPECT_GT(quarts, 1.0);
    EXPECT_TRUE(says(job_sheet(many), ">" + std::to_string(int(quarts)) + " quarts<"));
}

TEST(JobSheet, HolesThroughTheSkinAskForABacking) {
    Plan plan = planned();
    EXPECT_TRUE(says(job_sheet(plan), "If it goes through"));
    plan.warnings.push_back({warn::NoFloor{8.0, 6.0}});
    EXPECT_TRUE(says(job_sheet(plan), "this dish goes right through"));
}

TEST(JobSheet, ShoppingListHasCansAndCosts) {
    const std::string bare = job_sheet(planned());
    EXPECT_TRUE(says(bare, "1 can of 5 kg"));
    EXPECT_TRUE(says(bare, "0.42 m of roll"));
    const std::string priced = job_sheet(planned([](job::Job& job) {
        job.prices = job::Prices{};
        job.prices->currency = "NOK";
        job.prices->resin_per_kg = 60.0;
    }));
    // By hand: a can of 5 kg at 60 a kg.
    EXPECT_TRUE(says(priced, "300.00 NOK"));
    EXPECT_TRUE(says(priced, "Of what has a price"));
}

TEST(JobSheet, WorkOnAWallLaysLessAtOnce) {
    // Common practice: 3/4 of 4.3 mm on a wall, half of it overhead.
    EXPECT_TRUE(says(job_sheet(planned()), "At most 4.3 mm"));
    const auto at = [](job::Position position) {
        return job_sheet(planned([&](job::Job& job) { job.layup.position = position; }));
    };
    EXPECT_TRUE(says(at(job::Position::vertical), "At most 3.2 mm"));
    EXPECT_TRUE(says(at(job::Position::overhead), "At most 2.1 mm") ||
                says(at(job::Position::overhead), "At most 2.2 mm"));
}

TEST(Cautions, EachComesWhereItsTriggerDoes) {
    const auto text = [](job::ResinKind kind) {
        job::Job job;
        job.resin.kind = kind;
        std::string all;
        for (const Caution& caution : cautions(job))
            all += std::string(caution.heading) + " " + std::string(caution.words) + "\n";
        return all;
    };
    // Figures of SOURCES.md section 7: OSHA and NIOSH pages, ICSC 1028, makers' leaflets.
    for (const auto kind : {job::ResinKind::polyester, job::ResinKind::vinylester}) {
        const std::string all = text(kind);
        for (const char* words : {"eye wash within reach", "15 minutes", "cobalt", "acetone",
                                  "Never carry a smoking cup", "No flame heater", "second person",
                                  "OSHA 100 ppm", "ceiling 200", "peak 600", "NIOSH 50 ppm",
                                  "100 for a short time", "700 ppm", "0.2 ppm"})
            EXPECT_TRUE(says(all, words)) << words;
        EXPECT_FALSE(says(all, "sensitises"));
    }
    const std::string epoxy = text(job::ResinKind::epoxy);
    for (const char* words : {"sensitises", "corrosive", "blush", "eye wash", "15 minutes"})
        EXPECT_TRUE(says(epoxy, words)) << words;
    EXPECT_FALSE(says(epoxy, "MEKP"));
    EXPECT_FALSE(says(epoxy, "Styrene"));
    for (const auto kind :
         {job::ResinKind::polyester, job::ResinKind::vinylester, job::ResinKind::epoxy})
        for (const char* words :
             {"can catch fire", "seacocks", "3 fibres/cm³", "5 mg/m³", "wet-sand",
              "metal can with water", "Never add hardener", "those of your country may be lower"})
            EXPECT_TRUE(says(text(kind), words)) << words;
}

}  // namespace
}  // namespace tearline::job_sheet
