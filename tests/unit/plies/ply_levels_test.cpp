#include "core/plies/ply_levels.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numbers>

#include "core/job/fabric_catalogue.h"
#include "core/job/most_plies.h"

namespace tearline::plies {
namespace {

/// Depth 8.40625 mm, eight 450 g/m2 mats, 12:1: the worked job of SOURCES.md section 1.
job::Job worked_job() {
    job::Job job;
    job.damage.depth = 8.40625;
    job.hull.skin = 10.0;
    job.fabrics = job::built_in_fabrics();
    job.layup.stack.assign(8, {"mat 450", 0.0, 0.0});
    return job;
}

/// Plies of exactly 1 mm, so that expected figures can be read off.
job::Job one_millimetre_job(double depth, std::size_t plies) {
    job::Job job = worked_job();
    job.damage.depth = depth;
    job.fabrics.at("mat 450").thickness = 1.0;
    job.layup.stack.assign(plies, {"mat 450", 0.0, 0.0});
    return job;
}

std::vector<double> edges(const PlyLevels& levels) {
    std::vector<double> out;
    for (const PlyLevel& ply : levels.plies) out.push_back(ply.edge_offset);
    return out;
}

bool warns(const PlyLevels& levels, const std::string& code) {
    return std::any_of(levels.warnings.begin(), levels.warnings.end(),
                       [&](const Warning& warning) { return warning.code() == code; });
}

TEST(PlyLevels, WorkedJobGivesTheRadiiOfTradeFacts) {
    // SOURCES.md section 1 (derived): a 100 mm hole, radii 112.61 ... 200.88 mm, 0.638443 m2.
    const auto levels = ply_levels(worked_job());
    ASSERT_TRUE(levels) << levels.error().message();
    EXPECT_NEAR(100.0 + levels->plies[0].edge_offset, 112.61, 0.005);
    EXPECT_NEAR(100.0 + levels->plies[7].edge_offset, 200.88, 0.006);
    double area = 0.0;
    for (int i = 0; i < 8; ++i) {
        const double radius = 100.0 + levels->plies[static_cast<std::size_t>(i)].edge_offset;
        area += std::numbers::pi * radius * radius;
    }
    EXPECT_NEAR(area, 638443.0, 0.5);
    EXPECT_NEAR(levels->stack_thickness, 8.40625, 1e-9);
    EXPECT_FALSE(warns(*levels, "stack-off-depth"));
}

TEST(PlyLevels, OneMillimetrePliesGiveTwelveMillimetreSteps) {
    // SOURCES.md section 1: radii 112, 124 ... 196 mm, 0.615 m2; covers 25 mm apart by default.
    job::Job job = one_millimetre_job(8.0, 8);
    job.layup.cover.assign(2, {"mat 300", 0.0, 0.0});
    const auto levels = ply_levels(job);
    ASSERT_TRUE(levels);
    EXPECT_EQ(edges(*levels), (std::vector<double>{12, 24, 36, 48, 60, 72, 84, 96, 121, 146}));
    EXPECT_TRUE(levels->plies[8].cover);
}

TEST(PlyLevels, PublishedScarfCasesComeOut) {
    // Published owner guides (SOURCES.md section 1): skin 0.44 in -> 5.28 in of scarf, 11.31 in
    // circle round a 3/4 in hole; 0.31 in -> 3.72 in; 1/4 in gouge 1 in across -> 7 in circle.
    const auto scarf_inches = [](double depth_inches) {
        job::Job job = worked_job();
        job.hull.skin.reset();
        job.damage.depth = depth_inches * 25.4;
        job.layup.stack.clear();
        job.layup.fill = {{"mat 450", 0.0, 0.0}};
        return ply_levels(job).value().dish.back().x() / 25.4;
    };
    EXPECT_NEAR(scarf_inches(0.44), 5.28, 1e-9);
    EXPECT_NEAR(0.75 + 2 * scarf_inches(0.44), 11.31, 1e-9);
    EXPECT_NEAR(scarf_inches(0.31), 3.72, 1e-9);
    EXPECT_NEAR(1.0 + 2 * scarf_inches(0.25), 7.0, 1e-9);
}

TEST(PlyLevels, LargestFirstEndsUndersidesAtTheBaseSurface) {
    // DEFINITIONS.md, Edges: e_k = ratio (D - H_(k-1)); with 1 mm plies in 4 mm: 48, 36, 24, 12.
    job::Job job = one_millimetre_job(4.0, 4);
    job.layup.order = job::Order::largest_first;
    const auto levels = ply_levels(job);
    ASSERT_TRUE(levels);
    EXPECT_EQ(edges(*levels), (std::vector<double>{48, 36, 24, 12}));
}

TEST(PlyLevels, OrdersOfAnEvenStackHaveTheSameOutlines) {
    // SOURCES.md section 1: the same outlines when the stack reads the same both ways.
    job::Job job = worked_job();
    auto smallest = edges(ply_levels(job).value());
    job.layup.order = job::Order::largest_first;
    auto largest = edges(ply_levels(job).value());
    std::reverse(largest.begin(), largest.end());
    for (std::size_t i = 0; i < 8; ++i) EXPECT_NEAR(smallest[i], largest[i], 1e-9);
}

TEST(PlyLevels, LeastStepWidensRingsAndBendsTheDish) {
    // By hand: steps of 25 mm where 12:1 asks for 12 mm; the dish runs through the rings.
    job::Job job = one_millimetre_job(3.0, 3);
    job.scarf.least_step = 25.0;
    const auto levels = ply_levels(job);
    ASSERT_TRUE(levels);
    EXPECT_EQ(edges(*levels), (std::vector<double>{25, 50, 75}));
    EXPECT_DOUBLE_EQ(dish_depth(*levels, 0.0), 3.0);
    EXPECT_DOUBLE_EQ(dish_depth(*levels, 12.5), 2.5);
    EXPECT_DOUBLE_EQ(dish_depth(*levels, 50.0), 1.0);
    EXPECT_DOUBLE_EQ(dish_depth(*levels, 75.0), 0.0);
    EXPECT_DOUBLE_EQ(dish_depth(*levels, 80.0), 0.0);
}

TEST(PlyLevels, LeastStepInLargestFirstPutsRingsAtWhatLiesUnder) {
    // By hand: edges 75, 50, 25; the underside of ply k surfaces where the dish is H_(k-1) deep.
    job::Job job = one_millimetre_job(3.0, 3);
    job.layup.order = job::Order::largest_first;
    job.scarf.least_step = 25.0;
    const auto levels = ply_levels(job);
    ASSERT_TRUE(levels);
    EXPECT_EQ(edges(*levels), (std::vector<double>{75, 50, 25}));
    EXPECT_DOUBLE_EQ(dish_depth(*levels, 25.0), 2.0);
    EXPECT_DOUBLE_EQ(dish_depth(*levels, 50.0), 1.0);
    EXPECT_DOUBLE_EQ(levels->dish.back().x(), 75.0);
}

TEST(PlyLevels, ShortStackLeavesTheRestOfAWidenedScarfAtTheRatio) {
    // By hand: two 1 mm plies 25 mm apart in 3 mm leave 1 mm, which takes 12 mm more.
    job::Job job = one_millimetre_job(3.0, 2);
    job.scarf.least_step = 25.0;
    const auto levels = ply_levels(job);
    ASSERT_TRUE(levels);
    EXPECT_DOUBLE_EQ(levels->dish.back().x(), 62.0);
    EXPECT_TRUE(warns(*levels, "stack-off-depth"));
}

TEST(PlyLevels, FillTakesTheFewestPliesThatReachTheDepth) {
    // DEFINITIONS.md, Job file: under 0.1 mm short counts as full. 1 mm plies.
    const auto plies_for = [](double depth) {
        job::Job job = one_millimetre_job(depth, 1);
        job.layup.stack.clear();
        job.layup.fill = {{"mat 450", 0.0, 0.0}};
        return ply_levels(job).value().plies.size();
    };
    EXPECT_EQ(plies_for(4.0), 4u);
    EXPECT_EQ(plies_for(4.09), 4u);
    EXPECT_EQ(plies_for(4.11), 5u);
    EXPECT_EQ(plies_for(0.05), 1u);
}

TEST(PlyLevels, FillHasTheLimitOfAStack) {
    // 1 mm plies: 60 mm are 60 plies, 61 mm one too many.
    job::Job job = one_millimetre_job(60.0, 1);
    job.layup.stack.clear();
    job.layup.fill = {{"mat 450", 0.0, 0.0}};
    const auto most = ply_levels(job);
    ASSERT_TRUE(most) << most.error().message();
    EXPECT_EQ(most->plies.size(), job::most_plies);
    job.damage.depth = 61.0;
    const auto more = ply_levels(job);
    ASSERT_FALSE(more);
    EXPECT_NE(more.error().message().find("at most 60"), std::string::npos)
        << more.error().message();
}

TEST(PlyLevels, FillRepeatsAListInTurn) {
    job::Job job = one_millimetre_job(5.0, 1);
    job.fabrics.at("roving 600").thickness = 0.5;
    job.layup.stack.clear();
    job.layup.fill = {{"mat 450", 0.0, 0.0}, {"roving 600", 0.0, 0.0}};
    const auto levels = ply_levels(job);
    ASSERT_TRUE(levels);
    // By hand: 1, 1.5, 2.5, 3, 4, 4.5, 5.5 mm.
    ASSERT_EQ(levels->plies.size(), 7u);
    EXPECT_EQ(levels->plies[5].entry.fabric, "roving 600");
    EXPECT_EQ(levels->plies[6].entry.fabric, "mat 450");
}

TEST(PlyLevels, StackPlyAboveTheDepthBecomesACover) {
    job::Job job = one_millimetre_job(3.0, 5);
    const auto levels = ply_levels(job);
    ASSERT_TRUE(levels);
    EXPECT_EQ(edges(*levels), (std::vector<double>{12, 24, 36, 61, 86}));
    EXPECT_FALSE(levels->plies[2].cover);
    EXPECT_TRUE(levels->plies[3].cover);
    EXPECT_DOUBLE_EQ(levels->stack_thickness, 3.0);
    EXPECT_TRUE(warns(*levels, "ply-as-cover"));
    EXPECT_TRUE(warns(*levels, "stack-off-depth"));
}

TEST(PlyLevels, SumIsWarnedOfFromHalfAPlyOrHalfAMillimetre) {
    EXPECT_FALSE(warns(ply_levels(one_millimetre_job(3.49, 3)).value(), "stack-off-depth"));
    EXPECT_TRUE(warns(ply_levels(one_millimetre_job(3.51, 3)).value(), "stack-off-depth"));
    job::Job thick = one_millimetre_job(3.7, 2);
    thick.fabrics.at("mat 450").thickness = 1.5;
    EXPECT_FALSE(warns(ply_levels(thick).value(), "stack-off-depth"));
}

TEST(PlyLevels, FinalTopcoatEndsTheGlassLower) {
    // DEFINITIONS.md, Job file: a final coat ends the glass lower by its thickness; a sacrificial
    // one not.
    job::Job job = one_millimetre_job(4.5, 4);
    job.layup.stack.clear();
    job.layup.fill = {{"mat 450", 0.0, 0.0}};
    EXPECT_EQ(ply_levels(job).value().plies.size(), 5u);
    job.topcoat.final_coat = true;
    job.topcoat.thickness = 0.508;
    EXPECT_EQ(ply_levels(job).value().plies.size(), 4u);
    job.topcoat.thickness = 4.5;
    EXPECT_FALSE(ply_levels(job));
}

TEST(PlyLevels, FillGoesOnUntilTheOldStiffnessIsReached) {
    // By hand: 4 mm of woven roving is 13900 x 4 / 6400 = 8.7 mm of mat in its plane: 9 plies of
    // 1 mm, of which those from the fifth on start at or above the 4 mm of depth.
    job::Job job = one_millimetre_job(4.0, 4);
    const std::string mat =
        job.layup.stack.empty() ? job.layup.fill.front().fabric : job.layup.stack.front().fabric;
    job.layup.stack.clear();
    job.layup.fill = {{mat, 0.0, 0.0}};
    job.layup.fill_to = job::FillTo::stiffness;
    job.old_laminate = job::OldLaminate{};
    job.old_laminate->thickness = 4.0;
    job.old_laminate->kind = job::FabricKind::woven;
    const auto levels = ply_levels(job);
    ASSERT_TRUE(levels);
    EXPECT_EQ(levels->plies.size() - job.layup.cover.size(), 9u);
    EXPECT_TRUE(warns(*levels, "ply-as-cover"));
}

TEST(PlyLevels, FloorLeftIsJudgedFromTheSkin) {
    job::Job job = one_millimetre_job(4.0, 4);
    job.hull.skin = 5.0;
    EXPECT_FALSE(warns(ply_levels(job).value(), "floor-thin"));
    job.hull.skin = 4.9;
    EXPECT_TRUE(warns(ply_levels(job).value(), "floor-thin"));
    EXPECT_FALSE(warns(ply_levels(job).value(), "no-floor"));
    job.hull.skin = 4.0;
    EXPECT_TRUE(warns(ply_levels(job).value(), "no-floor"));
    EXPECT_FALSE(warns(ply_levels(job).value(), "floor-thin"));
    job.hull.skin.reset();
    EXPECT_TRUE(warns(ply_levels(job).value(), "skin-unknown"));
}

TEST(LayDepth, SmallestFirstIsConstantAtTheMidPlane) {
    // DEFINITIONS.md, Lay surface: D - H_k + t_k/2; ply 2 of 1 mm plies in 4 mm: 4 - 2 + 0.5.
    const job::Job job = one_millimetre_job(4.0, 4);
    const auto levels = ply_levels(job).value();
    EXPECT_DOUBLE_EQ(lay_depth_over(levels.plies[1], dish_depth(levels, -30.0)), 2.5);
    EXPECT_DOUBLE_EQ(lay_depth_over(levels.plies[1], dish_depth(levels, 24.0)), 2.5);
}

TEST(LayDepth, LargestFirstFollowsTheDish) {
    // By hand: the dish at 12 mm out is 3 mm deep; under the mid-plane of ply 2 lie 1.5 mm.
    job::Job job = one_millimetre_job(4.0, 4);
    job.layup.order = job::Order::largest_first;
    const auto levels = ply_levels(job).value();
    EXPECT_DOUBLE_EQ(lay_depth_over(levels.plies[1], dish_depth(levels, 12.0)), 1.5);
    EXPECT_DOUBLE_EQ(levels.plies[1].lay_depth, 2.5);
    EXPECT_DOUBLE_EQ(lay_depth_over(levels.plies[1], dish_depth(levels, 36.0)), -0.5);
}

TEST(LayDepth, CoversLieOnTheBaseSurface) {
    // By hand: covers of 1 mm over a full dish lie 0.5 and 1.5 mm above it, inside and outside.
    job::Job job = one_millimetre_job(4.0, 4);
    job.layup.cover.assign(2, {"mat 450", 0.0, 0.0});
    const auto levels = ply_levels(job).value();
    EXPECT_DOUBLE_EQ(lay_depth_over(levels.plies[4], dish_depth(levels, 0.0)), -0.5);
    EXPECT_DOUBLE_EQ(lay_depth_over(levels.plies[5], dish_depth(levels, 90.0)), -1.5);
}

}  // namespace
}  // namespace tearline::plies
