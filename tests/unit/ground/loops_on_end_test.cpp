#include "core/ground/loops_on_end.h"

#include <gtest/gtest.h>

#include <array>
#include <numbers>

#include "tests/support/analytic_patch.h"

namespace tearline::ground {
namespace {

/// The half plane y < 0 as far as x from -80 to 80, its end y = 0 in steps of 10.
patch::EndRun run_along_x() {
    patch::EndRun run;
    for (int i = 0; i <= 16; ++i) {
        run.vertex.push_back(0);
        run.chart.emplace_back(80.0 - 10.0 * i, 0.0);
        run.normal.emplace_back(0, 0, 1);
    }
    return run;
}

surface::Patch some_patch() {
    return test::analytic_patch(test::plane_map, test::within_disc(20.0), 30.0, 10.0);
}

TEST(LoopsOnEnd, FindsTheStretchOfABox) {
    const surface::Patch patch = some_patch();
    const Region2 box{{{-30, -40}, {45, -40}, {45, 0}, {10, 0}, {-30, 0}}, {}};
    const auto found = loops_on_end(box, {run_along_x()}, patch, 25.0);
    ASSERT_TRUE(found);
    ASSERT_EQ(found->size(), 1u);
    EXPECT_EQ(found->front().first, 2u);
    EXPECT_EQ(found->front().count, 3u);
    // By hand: u counts tens of mm back from x = 80.
    EXPECT_NEAR(found->front().span.from, 3.5, 1e-12);
    EXPECT_NEAR(found->front().span.to, 11.0, 1e-12);
}

TEST(LoopsOnEnd, LeavesOutATongueThatNobodyLaps) {
    const surface::Patch patch = some_patch();
    const Region2 narrow{{{-10, -40}, {10, -40}, {10, 0}, {-10, 0}}, {}};
    const auto found = loops_on_end(narrow, {run_along_x()}, patch, 25.0);
    ASSERT_TRUE(found);
    EXPECT_TRUE(found->empty());
    const Region2 inside{{{-30, -40}, {30, -40}, {30, -1}, {-30, -1}}, {}};
    EXPECT_TRUE(loops_on_end(inside, {run_along_x()}, patch, 25.0)->empty());
}

TEST(LoopsOnEnd, RefusesACornerUnderTheCloth) {
    const surface::Patch patch = some_patch();
    patch::EndRun up = run_along_x();
    for (std::size_t i = 0; i < up.chart.size(); ++i) up.chart[i] = Vec2(80.0, -160.0 + 10.0 * i);
    const Region2 at_corner{{{20, -60}, {80, -60}, {80, 0}, {20, 0}}, {}};
    const auto found = loops_on_end(at_corner, {run_along_x(), up}, patch, 25.0);
    ASSERT_FALSE(found);
    EXPECT_EQ(found.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(found.error().message().find("corner"), std::string::npos);
}

TEST(LoopsOnEnd, RefusesAHoleThatIsAnOpening) {
    const surface::Patch patch = some_patch();
    const Region2 round{{{-80, -80}, {80, -80}, {80, 60}, {-80, 60}},
                        {{{-30, 0}, {-30, 20}, {30, 20}, {30, 0}}}};
    const auto found = loops_on_end(round, {run_along_x()}, patch, 25.0);
    ASSERT_FALSE(found);
    EXPECT_NE(found.error().message().find("all round an opening"), std::string::npos);
}

}  // namespace
}  // namespace tearline::ground
