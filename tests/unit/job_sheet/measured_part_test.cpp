#include "core/job_sheet/measured_part.h"

#include <gtest/gtest.h>

#include "tests/support/words_in.h"

namespace tearline::job_sheet {
namespace {

using test::count;
using test::says;

TEST(MeasuredPart, IsEmptyWhereNothingWasMeasured) {
    EXPECT_EQ(measured_part(Plan{}), "");
}

TEST(MeasuredPart, TellsHowEachFigureIsMetAndWhatItMoves) {
    Plan plan;
    plan.measured = {{"hull.measured.gap_along", 6.5, 6.42, 0.534},
                     {"hull.measured.gap_across", -21.0, -21.0, std::nullopt}};
    const std::string part = measured_part(plan);
    EXPECT_TRUE(says(part, "<h2>What was measured</h2>"));
    EXPECT_TRUE(
        says(part,
             "<td class=\"left\">the gap along, at the middle</td><td>6.5 mm</td><td>6.4 mm</td>"
             "<td>0.53 mm</td></tr>"));
    // A rate that nobody worked out is no rate of nothing.
    EXPECT_TRUE(says(part, "<td>-21.0 mm</td><td>-21.0 mm</td><td></td></tr>"));
    EXPECT_FALSE(says(part, "plan.json"));
    EXPECT_TRUE(says(part,
                     "moves an edge of the widest template by 0.53 mm at most: "
                     "the gap along, at the middle."));
}

TEST(MeasuredPart, OfManyFiguresShowsThoseThatMoveAnEdgeMostThenThoseFarthestOff) {
    Plan plan;
    for (int i = 1; i <= 30; ++i)
        plan.measured.push_back({"grid[" + std::to_string(i) + "]", 10.0, 10.0 + 0.1 * i, {}});
    plan.measured[2].edge_mm_per_mm = 0.2;
    plan.measured[7].edge_mm_per_mm = 0.9;
    const std::string part = measured_part(plan);
    EXPECT_EQ(count(part, "<td class=\"left\">grid["), 12u);
    EXPECT_TRUE(says(part, "The 12 that matter most of 30; all are in plan.json"));
    const auto place = [&](const std::string& name) {
        return part.find("<td class=\"left\">" + name);
    };
    EXPECT_LT(place("grid[8]"), place("grid[3]"));
    EXPECT_LT(place("grid[3]"), place("grid[30]"));
    EXPECT_LT(place("grid[30]"), place("grid[29]"));
    EXPECT_TRUE(says(part, "grid[21]"));
    EXPECT_FALSE(says(part, "grid[20]"));
    EXPECT_TRUE(says(part, "by 0.90 mm at most: grid[8]"));
}

TEST(MeasuredPart, GivesVolumesInTheUnitsThatTheJobShowsFirst) {
    // 1 US fluid ounce is 29.5735295625 mL: 500 mL are 16.9.
    Plan plan;
    plan.volumes = quantities::DishVolumes{500.0, 460.0, 40.0, 12.0, 0.5};
    EXPECT_TRUE(
        says(measured_part(plan), "<td class=\"left\">The dish</td><td>500 mL (16.9 fl oz)"));
    plan.job.display_units = job::Units::us;
    const std::string part = measured_part(plan);
    EXPECT_TRUE(says(part, "<td class=\"left\">The dish</td><td>16.9 fl oz (500 mL)"));
    EXPECT_TRUE(says(part, "of it laminate</td><td>15.6 fl oz (460 mL)"));
    EXPECT_TRUE(says(part, "of it fairing compound</td><td>1.4 fl oz (40 mL)"));
    EXPECT_TRUE(says(part, "to sand off</td><td>0.4 fl oz (12 mL)"));
}

TEST(MeasuredPart, SaysWhatThePliesLaidSoFarHaveBuilt) {
    Plan plan;
    plan.built = plan::BuiltSoFar{2, 2.10, 2.34, {{1, 1.17, 0.274}, {2, 1.17, 0.274}}};
    const std::string part = measured_part(plan);
    EXPECT_TRUE(says(part, "Laid so far: 2 plies, 2.34 mm thick; planned were 2.10 mm."));
    EXPECT_TRUE(says(part, "<td class=\"left\">2</td><td>1.17 mm</td><td>27 %</td>"));
    plan.built->plies = 1;
    plan.built->each.pop_back();
    EXPECT_TRUE(says(measured_part(plan), "Laid so far: 1 ply, "));
}

TEST(MeasuredPart, NamesTheMarksAsTextNotAsMarkup) {
    Plan plan;
    plan.job.marks = {{"A<b>", Vec3(0, 0, 0), 1}, {"B", Vec3(1, 0, 0), 2}};
    const std::string part = measured_part(plan);
    EXPECT_TRUE(says(part, "Marks on the hull: A&lt;b&gt;, B."));
    EXPECT_FALSE(says(part, "A<b>"));
}

}  // namespace
}  // namespace tearline::job_sheet
