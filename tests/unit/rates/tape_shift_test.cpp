#include "core/rates/tape_shift.h"

#include <gtest/gtest.h>

#include "core/rates/edge_rates.h"
#include "tests/support/analytic_patch.h"
#include "tests/unit/rates/sloping_table.h"

namespace tearline::rates {
namespace {

using Use = job::TapedPoint::Use;

/// Marks and one point of the damage on the sloping plane, and how each was told.
struct Taped : SlopingPlan {
    void mark(const std::string& name, const Vec2& at, bool in_space = true) {
        job::Mark one;
        one.name = name;
        one.at = over(at);
        placed.job.marks.push_back(one);
        if (!in_space) one.at.reset();
        asked.marks.push_back(one);
    }
    job::TapedPoint tape(Use use, std::size_t index, const std::vector<std::string>& names) {
        job::TapedPoint point;
        point.use = use;
        point.index = index;
        for (const std::string& name : names) point.distances.emplace_back(name, 0.0);
        asked.taped.push_back(point);
        return point;
    }
};

TEST(TapeShift, FromMarksThatStandInSpaceAPointOfAPlaneStaysThere) {
    // Closed form: with a pole's weight w, a straight tape of slope t on a plane becomes longer by
    // t (w at its end less w at its mark), and the mark slides by -w along the slope: what is left
    // is that the point stays in space, and slides over the moved plane by -w z in its tangent.
    Taped plan;
    plan.mark("A", {-70, -30});
    plan.mark("B", {60, -40});
    const auto point = plan.tape(Use::centre, 0, {"A", "B"});
    const MovedSurface surface(plan.table.influence, 0.0);
    const PlannedGround on = plan.on();
    const TapeShift shift(on, surface);
    for (const Vec2& at : {Vec2(10, 50), Vec2(-40, 40), Vec2(55, 70)}) {
        const Eigen::Matrix3Xd found = shift.of(point, plan.over(at));
        const Eigen::Matrix3Xd expected = -surface.slide(plan.place(at));
        EXPECT_GT(expected.norm(), 0.05);
        EXPECT_LT((found - expected).norm(), 2e-3 * expected.norm()) << at.transpose();
    }
}

TEST(TapeShift, FromMarksThatSlideAPointSlidesWithThem) {
    // Closed form: C's distances from A and B as before. C was taped from marks in space, a further
    // point from A and C: on the plane it stays in space as well.
    Taped plan;
    plan.mark("A", {-70, -30});
    plan.mark("B", {60, -40});
    plan.mark("C", {20, 60}, false);
    plan.tape(Use::mark, 2, {"A", "B"});
    const auto point = plan.tape(Use::centre, 0, {"A", "C"});
    const MovedSurface surface(plan.table.influence, 0.0);
    const PlannedGround on = plan.on();
    const TapeShift shift(on, surface);
    const Vec2 at(-50, 55);
    const Eigen::Matrix3Xd expected = -surface.slide(plan.place(at));
    EXPECT_LT((shift.of(point, plan.over(at)) - expected).norm(), 3e-3 * expected.norm());
}

TEST(TapeShift, OfTwoMarksHalfTheirDistanceFromTheMiddleIsAlongTheirLine) {
    // Closed form: from the middle, which stays, along a way of slope t a mark slides by
    // -t (w at the mark less w at the middle) along the way. A point taped from both at once then
    // keeps its distances: solved here by the two lines' own equations.
    Taped plan;
    plan.mark("A", {-60, 0}, false);
    plan.mark("B", {60, 0}, false);
    plan.tape(Use::mark, 0, {});
    plan.tape(Use::mark, 1, {"A"});
    plan.hull.report.extent_min = plan.hull.report.extent_max = plan.over({0, 0});
    const auto point = plan.tape(Use::centre, 0, {"A", "B"});
    const MovedSurface surface(plan.table.influence, 0.0);
    const PlannedGround on = plan.on();
    const TapeShift shift(on, surface);
    const Vec2 at(15, 70);
    const Eigen::Matrix3Xd found = shift.of(point, plan.over(at));
    for (Eigen::Index pole = 0; pole < surface.poles(); ++pole) {
        const auto lift = [&](const Vec2& p) { return plan.weight(pole, p); };
        for (const double x : {-60.0, 60.0}) {
            const Vec2 mark(x, 0);
            const Vec3 along = (plan.over(mark) - plan.over({0, 0})).normalized();
            const Vec3 slides = -along.z() * (lift(mark) - lift({0, 0})) * along;
            const Vec3 way = (plan.over(at) - plan.over(mark)).normalized();
            // Longer by the surface, by the point's slide, and by the mark's: nothing in all.
            const double longer =
                way.z() * (lift(at) - lift(mark)) + way.dot(Vec3(found.col(pole)) - slides);
            EXPECT_NEAR(longer, 0.0, 2e-4) << pole << " " << x;
        }
        EXPECT_NEAR(found.col(pole).dot(plan.normal()), 0.0, 1e-6) << "over the surface";
    }
}

TEST(TapeShift, OfAPointOfThePlaneOfFiguresKeepsItsXAndY) {
    // By definition: what is told by x and y stands over them whatever the surface does; 20 mm over
    // the figures it swings with the normal, and has to slide back.
    Taped plan;
    plan.mark("A", {-70, -30});
    const auto point = plan.tape(Use::centre, 0, {});
    for (const double above : {0.0, 20.0}) {
        const MovedSurface surface(plan.table.influence, above);
        const PlannedGround on = plan.on();
        const TapeShift shift(on, surface);
        const Vec2 at(30, -20);
        const Eigen::Matrix3Xd found = shift.of(point, plan.over(at));
        const Eigen::Matrix3Xd in_space = found + surface.move(plan.place(at));
        EXPECT_LT(in_space.topRows(2).norm(), 1e-9) << above;
        EXPECT_LT((plan.normal().transpose() * found).norm(), 1e-9) << above;
        EXPECT_EQ(found.norm() > 1e-3, above > 0.0);
    }
}

TEST(TapeShift, IsNoneWhereAMarkIsNotKnown) {
    Taped plan;
    plan.mark("A", {-70, -30});
    const auto point = plan.tape(Use::centre, 0, {"A", "nobody's"});
    const MovedSurface surface(plan.table.influence, 0.0);
    const PlannedGround on = plan.on();
    EXPECT_EQ(TapeShift(on, surface).of(point, plan.over({10, 50})).norm(), 0.0);
}

}  // namespace
}  // namespace tearline::rates
