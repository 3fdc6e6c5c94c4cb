#include "core/ground/ground.h"

#include <gtest/gtest.h>

#include "core/base/tolerances.h"
#include "core/ground/find_ground.h"
#include "core/ground/job_hull.h"
#include "core/ground/sounded_depth.h"
#include "core/ground/untold_end.h"
#include "core/job/fabric_catalogue.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/flat_dish.h"

namespace tearline::ground {
namespace {

/// Mats of 1 mm in a dish of 4 mm, a scarf of 12, a torn band of 20 mm.
job::Job mats() {
    job::Job job;
    job.fabrics = job::built_in_fabrics();
    job.fabrics.at("mat 450").thickness = 1.0;
    job.fabrics.at("mat 450").tear_margin = 20.0;
    job.damage.depth = 4.0;
    job.scarf.ratio = 12.0;
    job.layup.fill = {{"mat 450", 0, 0}};
    return job;
}

/// Beyond what a repair itself needs, a margin to mesh in.
constexpr double margin = 2.0 * tolerance::patch_margin;

double beyond(const job::Job& job) {
    const auto reach = reach_beyond_outline(job);
    EXPECT_TRUE(reach) << reach.error().message();
    return reach.value_or(0.0) - margin;
}

TEST(ReachBeyondOutline, IsTheWidestPlyWithItsTornBand) {
    // By hand: four plies of 1 mm in a scarf of 12: the last ends 48 mm out, its band at 68.
    EXPECT_NEAR(beyond(mats()), 68.0, 1e-9);
}

TEST(ReachBeyondOutline, CountsTheBandOfMatAlone) {
    job::Job job = mats();
    job.fabrics.at("roving 600").thickness = 1.0;
    job.layup.fill = {{"roving 600", 0, 0}};
    EXPECT_NEAR(beyond(job), 48.0, 1e-9);
}

TEST(ReachBeyondOutline, GoesOutWithEachCover) {
    // By hand: two covers 25 mm beyond one another, and a band: 48 + 50 + 20.
    job::Job job = mats();
    job.layup.cover = {{"mat 450", 0, 0}, {"mat 450", 0, 0}};
    job.layup.cover_step = 25.0;
    EXPECT_NEAR(beyond(job), 118.0, 1e-9);
}

TEST(ReachBeyondOutline, OfADishThatWasSoundedTakesItsWholeScarfThenCoversAndBand) {
    // By hand: one ply of a stack of 1 mm ends 12 mm out where it is planned. Sounded, it may lie
    // at the end of the scarf: 48 + 25 + 20.
    job::Job job = mats();
    job.layup.fill.clear();
    job.layup.stack = {{"mat 450", 0, 0}};
    job.layup.cover = {{"mat 450", 0, 0}};
    job.damage.soundings.resize(5);
    EXPECT_NEAR(beyond(job), 48.0 + 25.0 + 20.0, 1e-9);
}

TEST(ReachBeyondOutline, OfUnknownDepthIsThatOfTheSkinOrOfTheThickestThereIs) {
    // By hand: 12 x 6 + 20 mm of a skin of 6 mm; without one 25 mm (common practice).
    job::Job job = mats();
    job.damage.depth = 0.0;
    job.hull.skin = 6.0;
    EXPECT_NEAR(beyond(job), 92.0, 1e-9);
    job.hull.skin.reset();
    EXPECT_NEAR(beyond(job), 12.0 * 25.0 + 20.0, 1e-9);
}

TEST(ReachBeyondOutline, IsAsFarAsStraightedgesReach) {
    // By hand: half of 600 mm and a fifth more along a hollow, beyond the scarf of 48: 408 mm.
    job::Job job = mats();
    job.damage.soundings.resize(5);
    job.damage.soundings[3].length = 900.0;  // by gauge: no edge lies there
    EXPECT_NEAR(beyond(job), 68.0, 1e-9);
    job.damage.soundings[1].from = job::Sounding::From::straightedge;
    job.damage.soundings[1].length = 600.0;
    EXPECT_NEAR(beyond(job), 408.0, 1e-9);
}

TEST(RegionAt, IsThatOfTheOffsetThatWasAskedFor) {
    Ground ground;
    ground.regions.resize(2);
    ground.regions[1].offset = 12.5;
    EXPECT_EQ(&ground.region_at(12.5), &ground.regions[1]);
    EXPECT_EQ(&ground.region_at(0.0), &ground.regions[0]);
    EXPECT_THROW((void)ground.region_at(12.0), std::logic_error);
}

TEST(RegionOf, IsByThePlysNumberAndNotByItsPlace) {
    Ground ground;
    ground.levels.plies.resize(2);
    ground.levels.plies[0].number = 4;
    ground.levels.plies[1].number = 5;
    ground.ply_regions.resize(2);
    EXPECT_EQ(&ground.region_of(ground.levels.plies[1]), &ground.ply_regions[1]);
    plies::PlyLevel other;
    other.number = 1;
    EXPECT_THROW((void)ground.region_of(other), std::logic_error);
}

TEST(CuredWork, HasToBeMeasuredBeforeItIsPlannedOn) {
    job::Job job = mats();
    hull::Hull hull;
    EXPECT_TRUE(check_cured_work(job, hull));
    job.after_ply = 3;
    const auto sounded = check_cured_work(job, hull);
    ASSERT_FALSE(sounded);
    EXPECT_EQ(sounded.error().key, "damage.sounding");
    EXPECT_NE(sounded.error().what.find("after = 3"), std::string::npos);
    job.damage.scan = job::DishScan{};  // of the dish before: the cured work has one of its own
    const auto scanned = check_cured_work(job, hull);
    ASSERT_FALSE(scanned);
    EXPECT_EQ(scanned.error().key, "damage.scan_after");
    hull.dish = std::make_shared<hull::DishPoints>();
    EXPECT_TRUE(check_cured_work(job, hull));
    hull.dish.reset();
    job.damage.soundings.resize(1);
    EXPECT_TRUE(check_cured_work(job, hull));
}

TEST(AsksForGround, WhereACentreHasNoSize) {
    job::Job job;
    EXPECT_FALSE(asks_for_ground(job));
    job.damage.centre = Vec3(0, 0, 0);
    EXPECT_TRUE(asks_for_ground(job));
    job.damage.radius = 30.0;
    EXPECT_FALSE(asks_for_ground(job));
    job.damage.radius.reset();
    job.damage.length = 30.0;
    EXPECT_FALSE(asks_for_ground(job));
}

TEST(HasDishScan, BeforeAnythingIsLaidOrAfter) {
    job::Job job;
    EXPECT_FALSE(has_dish_scan(job));
    job.damage.scans_after.resize(1);
    EXPECT_TRUE(has_dish_scan(job));
    job.damage.scans_after.clear();
    job.damage.scan = job::DishScan{};
    EXPECT_TRUE(has_dish_scan(job));
}

TEST(DepthTaken, IsToldOfADepthThatNobodyGave) {
    job::Job job = mats();
    Ground ground;
    ground.dish = std::make_unique<test::FlatDish>();
    EXPECT_TRUE(depth_taken(job, ground).empty()) << "planned: the job says it";
    job.damage.soundings.resize(5);
    const auto sounded = depth_taken(job, ground);
    ASSERT_EQ(sounded.size(), 1u);
    const auto* told = std::get_if<warn::DepthTaken>(&sounded[0].cause);
    ASSERT_TRUE(told);
    EXPECT_EQ(told->deepest, 4.0);
    job.lines["damage.depth"] = 7;
    EXPECT_TRUE(depth_taken(job, ground).empty());
}

TEST(WithDepth, LeavesADepthThatIsThere) {
    const auto job = with_depth(mats(), hull::Hull{});
    ASSERT_TRUE(job);
    EXPECT_EQ(job->damage.depth, 4.0);
}

Region2 box(double x0, double y0, double x1, double y1) {
    return {{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, {}};
}

/// A sheet of 200 by 120 mm; where it ends is the hull's end, or where somebody stopped.
surface::Patch sheet() {
    return test::analytic_patch(test::plane_map, test::within_box(100, 60), 130, 10, false, true);
}

TEST(UntoldEnd, IsWhereAScanStopsAndNobodySaysThatTheHullDoes) {
    const surface::Patch patch = sheet();
    double end = 0.0;  // of the mesh, which the sheet's own edge is cut to
    for (const Vec2& p : patch.chart) end = std::max(end, p.x());
    job::Job job;
    const std::vector<Region2> inside{box(-50, -30, 50, 30)}, out{box(50, -30, end, 30)};
    EXPECT_FALSE(untold_end(job, patch, out)) << "a model ends where it ends";
    job.hull.scan = job::HullScan{};
    EXPECT_FALSE(untold_end(job, patch, inside));
    const auto at = untold_end(job, patch, out);
    ASSERT_TRUE(at);
    EXPECT_NEAR(at->x(), end, 10.0);
    job.hull.scan.reset();
    job.hull.grid = job::OffsetGrid{};
    EXPECT_TRUE(untold_end(job, patch, out)) << "figures by hand stop there, too";
}

TEST(UntoldEnd, IsNoneAlongAnEndThatIsTold) {
    const surface::Patch patch = sheet();
    double end = 0.0;
    for (const Vec2& p : patch.chart) end = std::max(end, p.x());
    job::Job job;
    job.hull.scan = job::HullScan{};
    const std::vector<Region2> out{box(50, -30, end, 30)};
    job.damage.end = {Vec3(end, -58, 0), Vec3(end, 0, 0), Vec3(end, 58, 0)};
    EXPECT_FALSE(untold_end(job, patch, out));
    // The end on the other side tells nothing of this one.
    for (Vec3& p : job.damage.end) p.x() = -end;
    EXPECT_TRUE(untold_end(job, patch, out));
}

}  // namespace
}  // namespace tearline::ground
