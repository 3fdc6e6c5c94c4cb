#include "core/plane/no_fit.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "core/plane/convex_parts.h"
#include "core/plane/offset_region.h"
#include "tests/support/loops.h"

namespace tearline::plane {
namespace {

using std::numbers::pi;

Loop2 rectangle(const Vec2& low, const Vec2& high) {
    return {low, {high.x(), low.y()}, high, {low.x(), high.y()}};
}
Loop2 moved(Loop2 loop, const Vec2& by) {
    for (Vec2& p : loop) p += by;
    return loop;
}

/// A star with hollow sides, or a blob: radius shaken from point to point.
Loop2 shaken(std::mt19937& random, int points, double radius, double share) {
    std::uniform_real_distribution<double> shake(1.0 - share, 1.0 + share);
    Loop2 loop;
    for (int i = 0; i < points; ++i) {
        const double a = 2 * pi * i / points;
        loop.emplace_back(radius * shake(random) * Vec2(std::cos(a), std::sin(a)));
    }
    return loop;
}

/// What two regions have in common [mm2].
double overlap(const Loop2& a, const Loop2& b) {
    double sum = 0.0;
    for (const Region2& r : common_region({{a, {}}}, {{b, {}}})) sum += area(r);
    return sum;
}

/// Inside by the winding of all loops together: outer ones +1, openings -1.
bool forbidden(const std::vector<Loop2>& loops, const Vec2& p) {
    int wound = 0;
    for (const Loop2& loop : loops)
        if (contains(loop, p)) wound += signed_area(loop) > 0.0 ? 1 : -1;
    return wound > 0;
}

TEST(NoFit, OfTwoRectanglesIsOneAsWideAsBoth) {
    // By hand: 10 x 6 at (100, 50) and 4 x 2 with its low corner as origin: the origin may not lie
    // within (96, 48) to (110, 56).
    const auto loops = no_fit(rectangle({100, 50}, {110, 56}), rectangle({0, 0}, {4, 2}));
    ASSERT_EQ(loops.size(), 1u);
    EXPECT_EQ(loops[0].size(), 4u) << "sides that run the same way are one";
    EXPECT_NEAR(signed_area(loops[0]), 14.0 * 8.0, 1e-9);
    for (const Vec2& corner : {Vec2(96, 48), Vec2(110, 48), Vec2(110, 56), Vec2(96, 56)})
        EXPECT_LT(test::distance_to(loops[0], corner), 1e-9);
}

TEST(NoFit, OfConvexShapesHasTheAreaOfTheMixedSum) {
    // Minkowski: the area of A + (-B) is |A| + |B| + 2 V(A, -B); for a polygon A and a regular
    // polygon of many sides as B it is nearly Steiner's |A| + P r + pi r^2.
    Loop2 round;
    for (int i = 0; i < 720; ++i)
        round.emplace_back(7.0 * Vec2(std::cos(2 * pi * i / 720), std::sin(2 * pi * i / 720)));
    const Loop2 triangle{{0, 0}, {60, 5}, {20, 40}};
    const auto loops = no_fit(triangle, round);
    ASSERT_EQ(loops.size(), 1u);
    const double steiner = signed_area(triangle) + 7.0 * perimeter(triangle) + pi * 49.0;
    EXPECT_NEAR(signed_area(loops[0]) / steiner, 1.0, 1e-5);
}

TEST(NoFit, TellsOverlapFromClearance) {
    // Property, by the overlap itself: where the origin of the moving shape lies inside the
    // forbidden loops the shapes overlap, outside they do not. Hollow shapes too.
    std::mt19937 random(60606);  // fixed start value
    std::uniform_real_distribution<double> across(-110.0, 110.0);
    int apart = 0, meeting = 0;
    for (int pair = 0; pair < 12; ++pair) {
        const Loop2 fixed = shaken(random, 9 + pair, 50.0, 0.06 * pair);
        const Loop2 moving = shaken(random, 14 - pair, 30.0, 0.05 * pair);
        const auto loops = no_fit(fixed, moving);
        for (int k = 0; k < 60; ++k) {
            const Vec2 p(across(random), across(random));
            double near = 1e300;
            for (const Loop2& loop : loops) near = std::min(near, test::distance_to(loop, p));
            if (near < 0.01) continue;
            const double common = overlap(fixed, moved(moving, p));
            EXPECT_EQ(forbidden(loops, p), common > 1e-6) << pair << " at " << p.transpose();
            (common > 1e-6 ? meeting : apart) += 1;
        }
    }
    EXPECT_GT(apart, 100);
    EXPECT_GT(meeting, 100);
}

TEST(NoFit, LeavesRoomInsideAHollow) {
    // A C of 60 x 60 with a slot 20 high, 40 deep: a 10 x 10 square fits in the slot. By hand, its
    // low corner may move over x from 20 and y from 20 to 30 there.
    const Loop2 c{{0, 0}, {60, 0}, {60, 20}, {20, 20}, {20, 40}, {60, 40}, {60, 60}, {0, 60}};
    const auto loops = no_fit(c, rectangle({0, 0}, {10, 10}));
    EXPECT_FALSE(forbidden(loops, {30, 25}));
    EXPECT_FALSE(forbidden(loops, {20.01, 29.99}));
    EXPECT_TRUE(forbidden(loops, {19.9, 25}));
    EXPECT_TRUE(forbidden(loops, {30, 30.1}));
    EXPECT_TRUE(forbidden(loops, {30, 19.9}));
}

TEST(NoFit, FindsTheRoomInARing) {
    // The same slot closed: an island of free places, a clockwise loop of 10 x 10 mm.
    const Loop2 frame{{0, 0},   {60, 0},  {60, 60}, {0, 60},  {0, 29.999},  {20, 29.999},
                      {20, 40}, {40, 40}, {40, 20}, {20, 20}, {20, 29.998}, {0, 29.998}};
    const auto loops = no_fit(frame, rectangle({0, 0}, {10, 10}));
    EXPECT_FALSE(forbidden(loops, {25, 25}));
    EXPECT_TRUE(forbidden(loops, {31, 25}));
    const auto inner = std::find_if(loops.begin(), loops.end(),
                                    [](const Loop2& l) { return signed_area(l) < 0.0; });
    ASSERT_NE(inner, loops.end());
    EXPECT_NEAR(signed_area(*inner), -100.0, 0.05);
}

TEST(FreeCorners, AreThoseOfWhatIsLeftOfTheBox) {
    // By hand: the box 0..100 x 0..50 less 20..60 x 0..30, whose lower side is the box's own.
    const auto corners = free_corners({0, 0}, {100, 50}, {rectangle({20, -10}, {60, 30})});
    const std::vector<Vec2> expected{{0, 0},  {20, 0},  {20, 30},  {60, 30},
                                     {60, 0}, {100, 0}, {100, 50}, {0, 50}};
    EXPECT_EQ(corners.size(), expected.size());
    for (const Vec2& p : expected)
        EXPECT_TRUE(std::any_of(corners.begin(), corners.end(), [&](const Vec2& c) {
            return (c - p).norm() < 1e-4;
        })) << p.transpose();
}

TEST(FreeCorners, OfABoxWithoutHeightLieOnItsLine) {
    // A shape as wide as the cloth slides along a line: the two ends of each free stretch.
    const auto corners = free_corners({0, 5}, {100, 5}, {rectangle({30, 0}, {50, 40})});
    ASSERT_FALSE(corners.empty());
    for (const Vec2& p : corners) EXPECT_NEAR(p.y(), 5.0, 1e-12);
    for (const double x : {0.0, 30.0, 50.0, 100.0})
        EXPECT_TRUE(std::any_of(corners.begin(), corners.end(), [&](const Vec2& c) {
            return std::abs(c.x() - x) < 1e-4;
        })) << x;
    EXPECT_TRUE(free_corners({0, 0}, {10, 10}, {rectangle({-1, -1}, {11, 11})}).empty());
}

TEST(Guarded, HoldsTheShapeAndItsMargin) {
    // Property: every point at the margin from the outline lies inside, and no point of the guard
    // is farther out than the margin and three times the coarseness it is told, 1 or 4 mm.
    std::mt19937 random(9);
    for (const double share : {0.02, 0.35}) {
        const Loop2 outline = shaken(random, 40, 120.0, share);
        const double margin = 6.0;
        const Loop2 guard = guarded(outline, margin);
        const auto wide = offset_region({outline, {}}, margin - 0.02);
        ASSERT_EQ(wide.size(), 1u);
        for (const Vec2& p : wide[0].outer) EXPECT_TRUE(contains(guard, p)) << p.transpose();
        if (share < 0.1) {
            EXPECT_TRUE(is_convex(guard));
        } else {
            EXPECT_FALSE(is_convex(guard));
            for (const Vec2& p : guard) EXPECT_LT(test::distance_to(outline, p), margin + 3 * 4.0);
        }
        EXPECT_LT(guard.size(), 120u);
    }
}

TEST(ConvexParts, CoverTheLoopOnceAndAreConvex) {
    // Property: areas add up (so that no two overlap), every part is convex, every corner of a part
    // is one of the loop.
    std::mt19937 random(2718);  // fixed start value
    for (int k = 0; k < 60; ++k) {
        const Loop2 loop = shaken(random, 6 + k, 50.0, 0.01 * k);
        const auto parts = convex_parts(loop);
        double sum = 0.0;
        for (const Loop2& part : parts) {
            EXPECT_TRUE(is_convex(part));
            EXPECT_GT(signed_area(part), 0.0);
            sum += signed_area(part);
            for (const Vec2& p : part)
                EXPECT_NE(std::find(loop.begin(), loop.end(), p), loop.end());
        }
        EXPECT_NEAR(sum, signed_area(loop), 1e-8);
    }
}

TEST(ConvexParts, OfAnLAreTwoAndOfAConvexLoopOne) {
    // By hand: from the hollow corner (20, 20) the shortest way is to (0, 20) or (20, 0).
    const Loop2 l{{0, 0}, {60, 0}, {60, 20}, {20, 20}, {20, 60}, {0, 60}};
    const auto parts = convex_parts(l);
    ASSERT_EQ(parts.size(), 2u);
    EXPECT_NEAR(signed_area(parts[0]) + signed_area(parts[1]), 60 * 20 + 20 * 40, 1e-12);
    EXPECT_EQ(convex_parts(rectangle({0, 0}, {3, 2})).size(), 1u);
}

TEST(ConvexParts, TellsConvexFromHollow) {
    EXPECT_TRUE(is_convex({{0, 0}, {5, 0}, {10, 0}, {10, 10}}));  // a straight corner is none
    EXPECT_FALSE(is_convex({{0, 0}, {5, 1}, {10, 0}, {10, 10}}));
    EXPECT_FALSE(is_convex({{0, 0}, {10, 0}, {5, 2}, {5, 10}}));
    // At its first, its last and its last but one corner too.
    const Loop2 dart{{0, 0}, {10, -10}, {3, 0}, {10, 10}};
    for (int turn = 0; turn < 4; ++turn) {
        Loop2 turned = dart;
        std::rotate(turned.begin(), turned.begin() + turn, turned.end());
        EXPECT_FALSE(is_convex(turned)) << turn;
    }
}

}  // namespace
}  // namespace tearline::plane
