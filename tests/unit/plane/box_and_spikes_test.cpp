#include <gtest/gtest.h>

#include <random>

#include "core/plane/box.h"
#include "core/plane/without_spikes.h"

namespace tearline::plane {
namespace {

TEST(BoxRound, HoldsItsPointsAndNoMore) {
    const Box box = box_round({{3, 4}, {-1, 9}, {2, -5}}, 0.5);
    EXPECT_EQ(box.low, Vec2(-1.5, -5.5));
    EXPECT_EQ(box.high, Vec2(3.5, 9.5));
    EXPECT_EQ(box_round({}).high, Vec2(0, 0));
}

TEST(BoxMeets, OnlyWhatItSharesAnAreaWith) {
    const Box box{{0, 0}, {10, 5}};
    EXPECT_TRUE(box.meets({{9, 4}, {20, 20}}));
    EXPECT_FALSE(box.meets({{10, 0}, {20, 5}})) << "a common side is no area";
    EXPECT_TRUE(box.touches({{10, 5}, {20, 20}})) << "but a point";
    EXPECT_FALSE(box.touches({{10.001, 0}, {20, 5}}));
    EXPECT_FALSE(box.touches({{0, 5.001}, {10, 6}}));
}

TEST(BoxMeets, SegmentsAsManyPointsOfThemSay) {
    // Second route: points along the segment. Those that miss by less than their distance, where a
    // corner is cut off between two of them, are told apart by half a step.
    const Box box{{-10, -5}, {10, 5}};
    std::mt19937 random(7);
    std::uniform_real_distribution<double> at(-20.0, 20.0);
    int met = 0;
    for (int run = 0; run < 2000; ++run) {
        const Vec2 a(at(random), at(random)), b(at(random), at(random));
        constexpr int steps = 500;
        const double step = (b - a).norm() / steps;
        double least = 1e9;  // how far the nearest of them is outside
        for (int k = 0; k <= steps; ++k) {
            const Vec2 p = a + double(k) / steps * (b - a);
            least = std::min(least, (box.low - p).cwiseMax(p - box.high).maxCoeff());
        }
        if (least <= 0.0 || least > step) {
            EXPECT_EQ(meets(box, a, b), least <= 0.0) << a.transpose() << " " << b.transpose();
        }
        met += meets(box, a, b) ? 1 : 0;
    }
    EXPECT_GT(met, 500);
    EXPECT_LT(met, 1500);
}

TEST(BoxMeets, SegmentsAlongItsSides) {
    const Box box{{0, 0}, {10, 5}};
    EXPECT_TRUE(meets(box, {-5, 5}, {5, 5}));
    EXPECT_FALSE(meets(box, {-5, 5.001}, {5, 5.001}));
    EXPECT_TRUE(meets(box, {10, -3}, {10, -0.0}));
    EXPECT_FALSE(meets(box, {10.001, -3}, {10.001, 9}));
    EXPECT_TRUE(meets(box, {3, 3}, {3, 3})) << "a point";
    EXPECT_FALSE(meets(box, {30, 3}, {30, 3}));
}

TEST(WithoutSpikes, TakesOutAWayThereAndBack) {
    // By hand: a square with a whisker of 20 mm at one corner.
    const Loop2 square{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    const Loop2 whisker{{0, 0}, {10, 0}, {10, 10}, {30, 10}, {10, 10}, {0, 10}};
    const Loop2 left = without_spikes(whisker, is_narrow);
    EXPECT_NEAR(signed_area(left), 100.0, 1e-12);
    for (const Vec2& p : left) EXPECT_LE(p.x(), 10.0);
    EXPECT_EQ(without_spikes(square, is_narrow), square);
    EXPECT_EQ(without_spikes(square, is_sharp), square);
}

TEST(WithoutSpikes, GoesOnWhileSpikesComeUp) {
    // A whisker in three stretches: each is a spike only when the one beyond is gone.
    const Loop2 whisker{{0, 0}, {10, 0}, {10, 10}, {20, 10}, {20, 20}, {20, 10}, {10, 10}, {0, 10}};
    const Loop2 left = without_spikes(whisker, is_narrow);
    EXPECT_NEAR(signed_area(left), 100.0, 1e-12);
    for (const Vec2& p : left) EXPECT_LE(p.maxCoeff(), 10.0);
}

TEST(WithoutSpikes, FindsThemAcrossTheSeamWhereverTheLoopBegins) {
    const Loop2 whisker{{0, 0}, {10, 0}, {10, 10}, {30, 10}, {10, 10}, {0, 10}};
    for (std::size_t first = 0; first < whisker.size(); ++first) {
        Loop2 turned(whisker.begin() + static_cast<std::ptrdiff_t>(first), whisker.end());
        turned.insert(turned.end(), whisker.begin(),
                      whisker.begin() + static_cast<std::ptrdiff_t>(first));
        const Loop2 left = without_spikes(turned, is_narrow);
        EXPECT_NEAR(std::abs(signed_area(left)), 100.0, 1e-12) << first;
        for (const Vec2& p : left) EXPECT_LE(p.x(), 10.0) << first;
    }
}

TEST(WithoutSpikes, LeavesNothingOfALineThereAndBack) {
    EXPECT_LT(without_spikes({{0, 0}, {10, 0}, {20, 0}, {10, 0}}, is_narrow).size(), 3u);
}

TEST(IsSharp, ByTheAngleAloneAndNotByTheWidth) {
    // The sine of 6 degrees is 0.105, of 5 degrees 0.087: the rule's 0.1 lies between.
    const auto tip = [](double degrees, double length) {
        const double a = degrees * 3.14159265358979 / 180.0;
        return is_sharp({length, 0}, {0, 0}, {length * std::cos(a), length * std::sin(a)});
    };
    for (const double length : {0.01, 1.0, 1000.0}) {
        EXPECT_TRUE(tip(5.0, length));
        EXPECT_FALSE(tip(6.0, length));
        EXPECT_FALSE(tip(179.0, length)) << "straight on is no spike";
    }
}

}  // namespace
}  // namespace tearline::plane
