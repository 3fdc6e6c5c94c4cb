#include "core/plane/room.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "core/plane/nearest_on_line.h"
#include "tests/support/loops.h"

namespace tearline::plane {
namespace {

TEST(Box, IsRoundItsPointsByTheMargin) {
    const Box box = box_round({{3, -2}, {-1, 5}, {2, 2}}, 0.5);
    EXPECT_EQ(box.low, Vec2(-1.5, -2.5));
    EXPECT_EQ(box.high, Vec2(3.5, 5.5));
    EXPECT_EQ(box_round({{3, -2}, {-1, 5}}).low, Vec2(-1, -2));
}

TEST(Box, MeetsWhatItOverlapsAndNotWhatItTouches) {
    // By hand: words that share an edge of their boxes stand clear of each other.
    const Box box{{0, 0}, {10, 5}};
    EXPECT_TRUE(box.meets({{9, 4}, {20, 20}}));
    EXPECT_TRUE(box.meets({{-5, 2}, {20, 3}}));
    EXPECT_FALSE(box.meets({{10, 0}, {20, 5}}));
    EXPECT_FALSE(box.meets({{0, 5}, {10, 9}}));
    EXPECT_FALSE(box.meets({{11, 6}, {12, 7}}));
}

TEST(Box, MeetsSegmentsAsAFineWalkAlongThemFinds) {
    // Second route: 4000 points of the segment; where the answers may differ by less than a step,
    // nothing is asked.
    const Box box{{-10, -4}, {12, 7}};
    std::mt19937 random(33);  // fixed start value
    std::uniform_real_distribution<double> across(-30.0, 30.0);
    int met = 0;
    for (int k = 0; k < 400; ++k) {
        const Vec2 a(across(random), across(random));
        Vec2 b(across(random), across(random));
        if (k % 10 == 0) b.x() = a.x();  // upright
        if (k % 10 == 1) b.y() = a.y();
        double deepest = -1e300;  // how far inside the walk comes, negative outside
        for (int i = 0; i <= 4000; ++i) {
            const Vec2 p = a + (b - a) * i / 4000.0;
            deepest =
                std::max(deepest, std::min((p - box.low).minCoeff(), (box.high - p).minCoeff()));
        }
        if (std::abs(deepest) < 0.05) continue;
        EXPECT_EQ(meets(box, a, b), deepest > 0.0) << k;
        met += deepest > 0.0 ? 1 : 0;
    }
    EXPECT_GT(met, 50);
    EXPECT_TRUE(meets(box, {-10, -20}, {-10, 20})) << "along its own side";
}

TEST(NearestFree, TakesThePlaceOfTheGridNearestToTheMiddle) {
    // A grid of 10 mm over 100 x 100; all that reaches left of x = 70 is taken. A box of 8 x 4 with
    // its margin of 1 mm needs its centre at 75 or more: of the grid's columns 80, and row 50.
    const Box all{{0, 0}, {100, 100}};
    const auto found = nearest_free(all, {8, 4}, 10, [](const Box& b) { return b.low.x() >= 70; });
    ASSERT_TRUE(found);
    EXPECT_LT((found->low - Vec2(75, 47)).norm(), 1e-12);
    EXPECT_LT((found->high - Vec2(85, 53)).norm(), 1e-12);
    EXPECT_FALSE(nearest_free(all, {8, 4}, 10, [](const Box&) { return false; }));
    const auto middle = nearest_free(all, {8, 4}, 10, [](const Box&) { return true; });
    ASSERT_TRUE(middle);
    EXPECT_LT((0.5 * (middle->low + middle->high) - Vec2(50, 50)).norm(), 1e-12);
}

TEST(DistanceToEdge, CountsHolesToo) {
    const Region2 frame{{{0, 0}, {100, 0}, {100, 100}, {0, 100}},
                        {{{40, 40}, {40, 60}, {60, 60}, {60, 40}}}};
    EXPECT_NEAR(distance_to_edge(frame, {30, 50}), 10.0, 1e-12);
    EXPECT_NEAR(distance_to_edge(frame, {5, 50}), 5.0, 1e-12);
    EXPECT_NEAR(distance_to_edge(frame, {50, 50}), 10.0, 1e-12) << "inside the hole";
    EXPECT_NEAR(distance_to_edge(frame, {103, 104}), 5.0, 1e-12);
}

TEST(RoomiestPoint, OfASquareAnLAndARing) {
    // By hand: the middle of a square; in an L with arms of 40 the largest circle sits in the
    // corner, touching both outer sides and the hollow corner (40, 40): centre c with
    // c = sqrt(2) (40 - c), 23.4; on a grid of a 40th, 2.5 mm, the room is short by 2.5 at most.
    const Region2 square{{{0, 0}, {80, 0}, {80, 80}, {0, 80}}, {}};
    EXPECT_LT((roomiest_point(square) - Vec2(40, 40)).norm(), 1e-9);
    const Region2 l{{{0, 0}, {100, 0}, {100, 40}, {40, 40}, {40, 100}, {0, 100}}, {}};
    const Vec2 p = roomiest_point(l);
    EXPECT_TRUE(contains(l, p));
    EXPECT_GT(distance_to_edge(l, p), 40.0 * std::sqrt(2.0) / (1 + std::sqrt(2.0)) - 2.5);
    // Between the hole and the corners: never in the hole.
    const Region2 frame{{{0, 0}, {100, 0}, {100, 100}, {0, 100}},
                        {{{30, 30}, {30, 70}, {70, 70}, {70, 30}}}};
    const Vec2 q = roomiest_point(frame);
    EXPECT_TRUE(contains(frame, q));
    // In a corner: r from both sides and from (30, 30): r = sqrt(2) (30 - r), 17.57.
    EXPECT_GT(distance_to_edge(frame, q), 30.0 * std::sqrt(2.0) / (1 + std::sqrt(2.0)) - 2.5);
}

}  // namespace
}  // namespace tearline::plane
