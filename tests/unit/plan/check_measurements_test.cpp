#include "core/plan/check_measurements.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "core/ground/place_points.h"
#include "core/hull/read_hull.h"
#include "core/job/read_job.h"
#include "core/plan/lay_plies.h"
#include "core/rates/edge_rates.h"

/// What is told of figures that a hull was measured by.
namespace tearline::plan {
namespace {

/// A job as read, and all that its figures are checked on.
struct Planned {
    job::Job asked;
    hull::Hull hull;
    ground::PlacedJob placed;
    ground::Ground ground;

    explicit Planned(const std::string& text) {
        asked = valid(job::parse_job(text, "measured.toml"));
        hull = valid(hull::read_hull(asked.hull, asked.damage.side));
        placed = valid(ground::place_points(asked, hull));
        ground = valid(ground::lay_ground(placed.job, hull));
    }
    /// Whatever is planned again fails at once: what is told without rates is the same.
    void forget_the_hull() { asked.hull = {}; }
    [[nodiscard]] rates::PlannedGround on() const { return {asked, placed, hull, ground}; }
    [[nodiscard]] MeasuredChecks checked() const {
        const auto laid = lay_plies(ground, placed.job, ground.levels.plies);
        if (!laid) throw std::runtime_error(laid.error().message());
        return check_measurements(on(), laid->plies);
    }

private:
    template <class T>
    static T valid(Result<T> result) {
        if (!result) throw std::runtime_error(result.error().message());
        return std::move(*result);
    }
};

/// One mat of 1.05 mm in a dish as deep, 12:1, with a torn band of 20 mm: 32.6 mm beyond a disc.
std::string repair(const std::string& damage) {
    return "[damage]\ndepth = 1.05078125\n" + damage +
           "\n[layup]\nfill = \"mat 450\"\ncover = []\n[[fabric]]\nname = \"mat "
           "450\"\ntear_margin = 20\n";
}

/// By a batten of 1000 mm: 500 mm each way from the origin were measured.
std::string by_batten(const std::string& gaps, const std::string& damage) {
    return "[hull]\nbow = [1, 0, 0]\nup = [0, 1, 0]\nskin = 8\n[hull.measured]\nbatten = 1000\n" +
           gaps + repair(damage);
}

/// Seven by six offsets every 60 mm from a plane, of a cylinder of 900 mm about its sixth row.
std::string by_grid(const std::string& damage) {
    std::string rows;
    for (int i = 0; i < 6; ++i) {
        const double y = 60.0 * i - 150.0;
        const std::string off = std::to_string(900.0 - std::sqrt(900.0 * 900.0 - y * y));
        rows += "[" + off;
        for (int j = 1; j < 7; ++j) rows += ", " + off;
        rows += "], ";
    }
    return "[hull]\nbow = [1, 0, 0]\nup = [0, 1, 0]\nskin = 8\n[hull.grid]\nspacing_along = "
           "60\nspacing_across = 60\noffsets = [" +
           rows + "]\n" + repair(damage);
}

template <class Cause>
const Cause* told(const Warnings& warnings) {
    for (const Warning& warning : warnings)
        if (const auto* found = std::get_if<Cause>(&warning.cause)) return found;
    return nullptr;
}

TEST(CheckMeasurements, TellsNothingOfAModel) {
    job::Job asked;
    const ground::PlacedJob placed{};
    const hull::Hull hull;
    const ground::Ground ground;
    const MeasuredChecks checks = check_measurements({asked, placed, hull, ground}, {});
    EXPECT_TRUE(checks.figures.empty());
    EXPECT_TRUE(checks.warnings.empty());
}

TEST(CheckMeasurements, FollowsEveryFigureOfABattenByPlanningAgain) {
    // On a cylinder of 900 mm, measured three times across and twice more along. Each figure wrong
    // by 1 mm bends the hull by 8e-6 / mm at most: an edge 90 mm out on a mid-plane half a
    // millimetre deep follows by less than a hundredth.
    const double gap = 900.0 - std::sqrt(900.0 * 900.0 - 500.0 * 500.0);
    const std::string across = std::to_string(gap);
    const Planned planned(
        by_batten("gap_along = 0\ngap_along_ends = [0, 0]\ngap_across = " + across +
                      "\ngap_across_ends = [" + across + ", " + across + "]\n",
                  "centre = [0, 0]\nradius = 40"));
    const MeasuredChecks checks = planned.checked();
    std::set<std::string> places;
    for (const MeasuredCheck& check : checks.figures) {
        places.insert(check.place);
        EXPECT_NEAR(check.figure_mm, check.place.find("across") == std::string::npos ? 0.0 : gap,
                    1e-5)
            << check.place;
        EXPECT_NEAR(check.passes_mm, check.figure_mm, 0.3) << check.place;
        ASSERT_TRUE(check.edge_mm_per_mm) << check.place;
        EXPECT_LT(*check.edge_mm_per_mm, 0.05) << check.place;
    }
    EXPECT_EQ(places, (std::set<std::string>{
                          "hull.measured.gap_across", "hull.measured.gap_across_ends[1]",
                          "hull.measured.gap_across_ends[2]", "hull.measured.gap_along",
                          "hull.measured.gap_along_ends[1]", "hull.measured.gap_along_ends[2]"}));
    const auto* drawn = told<warn::MeasuredHull>(checks.warnings);
    ASSERT_TRUE(drawn);
    EXPECT_EQ(drawn->figures, 6u);
    EXPECT_EQ(drawn->rates.size(), 6u);
    EXPECT_FALSE(drawn->misses);
    EXPECT_FALSE(drawn->tells) << "six gaps are no table";
}

TEST(CheckMeasurements, TellsHowFarTheRepairReachesBeyondTheBatten) {
    // By hand: a disc of 40 mm, a scarf of 12 x 1.05078 and a band of 20 mm: 72.61 mm from its
    // middle, the batten 500. Up to 3 mm is what a reading may be off.
    const double reach = 40.0 + 12.0 * 1.05078125 + 20.0;
    const auto beyond = [&](double past, bool along) {
        const std::string off = std::to_string(past + 500.0 - reach);
        Planned planned(
            by_batten("gap_along = 0\ngap_across = 0\n",
                      "centre = [" + (along ? "-" + off + ", 0" : "0, " + off) + "]\nradius = 40"));
        planned.forget_the_hull();
        const MeasuredChecks checks = check_measurements(planned.on(), {});
        const auto* told_of = told<warn::BeyondTheBatten>(checks.warnings);
        return told_of != nullptr ? told_of->beyond : 0.0;
    };
    EXPECT_NEAR(beyond(25.0, true), 25.0, 0.05);
    EXPECT_NEAR(beyond(25.0, false), 25.0, 0.05);
    EXPECT_EQ(beyond(2.5, true), 0.0);
}

TEST(CheckMeasurements, OfATableAreFollowedToFirstOrderAndTellWhatASlipMustBe) {
    const Planned planned(by_grid("centre = [180, 150]\nradius = 40"));
    const MeasuredChecks checks = planned.checked();
    ASSERT_EQ(checks.figures.size(), 42u);
    EXPECT_EQ(checks.figures[0].place, "hull.grid.offsets[1][1]");
    EXPECT_EQ(checks.figures[41].place, "hull.grid.offsets[6][7]");
    const auto rates = rates::edge_rates(
        planned.on(),
        lay_plies(planned.ground, planned.placed.job, planned.ground.levels.plies)->plies.front());
    ASSERT_TRUE(rates);
    for (std::size_t i = 0; i < 42; ++i) {
        EXPECT_NEAR(checks.figures[i].passes_mm, checks.figures[i].figure_mm, 0.05);
        EXPECT_EQ(checks.figures[i].edge_mm_per_mm, (*rates)[i]);
    }
    EXPECT_FALSE(told<warn::MeasuredHullOff>(checks.warnings));
    EXPECT_FALSE(told<warn::BeyondTheBatten>(checks.warnings)) << "a table ends with its figures";
    const auto* drawn = told<warn::MeasuredHull>(checks.warnings);
    ASSERT_TRUE(drawn);
    EXPECT_EQ(drawn->figures, 42u);
    EXPECT_TRUE(drawn->tells);
}

TEST(CheckMeasurements, OfATableThatCannotBeFollowedAreThoseNearestTheDamage) {
    // Nothing laid to follow: the four figures round the middle of a cell are planned again.
    const Planned planned(by_grid("centre = [150, 150]\nradius = 30"));
    const MeasuredChecks checks = check_measurements(planned.on(), {});
    std::set<std::string> followed;
    for (const MeasuredCheck& check : checks.figures)
        if (check.edge_mm_per_mm) {
            followed.insert(check.place);
            EXPECT_GT(*check.edge_mm_per_mm, 0.0) << check.place;
            EXPECT_LT(*check.edge_mm_per_mm, 0.5) << check.place;
        }
    // By hand: x of 120 and 180 are the third and fourth of a row; y of 120 and 180 of the rows.
    EXPECT_EQ(followed,
              (std::set<std::string>{"hull.grid.offsets[3][3]", "hull.grid.offsets[3][4]",
                                     "hull.grid.offsets[4][3]", "hull.grid.offsets[4][4]"}));
}

TEST(CheckMeasurements, NamesTheFigureThatIsMissedMost) {
    Planned planned(by_grid("centre = [180, 150]\nradius = 30"));
    planned.forget_the_hull();
    auto& figures = planned.hull.by_hand->figures;
    figures[9].passes = figures[9].figure - 1.0;
    figures[20].passes = figures[20].figure + 0.9;
    // A millimetre is what readings may be off; the batten's own is not more than that.
    const MeasuredChecks met = check_measurements(planned.on(), {});
    EXPECT_FALSE(told<warn::MeasuredHullOff>(met.warnings));
    EXPECT_EQ(told<warn::MeasuredHull>(met.warnings)->farthest, "hull.grid.offsets[2][3]");
    EXPECT_NEAR(told<warn::MeasuredHull>(met.warnings)->off, 1.0, 1e-12);
    figures[20].passes = figures[20].figure + 1.2;
    const MeasuredChecks off = check_measurements(planned.on(), {});
    const auto* missed = told<warn::MeasuredHullOff>(off.warnings);
    ASSERT_TRUE(missed);
    EXPECT_EQ(missed->key, "hull.grid.offsets[3][7]");
    EXPECT_NEAR(missed->passes - missed->figure, 1.2, 1e-12);
    EXPECT_TRUE(told<warn::MeasuredHull>(off.warnings)->misses);
    EXPECT_TRUE(told<warn::MeasuredHull>(off.warnings)->rates.empty());

    // And whether a slip stands out: one that shows only above 10 mm, where figures are refused,
    // never does.
    const auto tells = [&](double slip) {
        planned.hull.by_hand->tells = slip;
        return *told<warn::MeasuredHull>(check_measurements(planned.on(), {}).warnings)->tells;
    };
    EXPECT_EQ(tells(4.0), 4.0);
    EXPECT_TRUE(std::isinf(tells(10.5)));
}

}  // namespace
}  // namespace tearline::plan
