#include "core/plane/crossings.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

namespace tearline::plane {
namespace {

TEST(Crossings, IsFoundInABowTieAndNotInASquare) {
    const Region2 square{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {}};
    EXPECT_FALSE(crosses_itself(square));
    const Region2 bow_tie{{{0, 0}, {10, 0}, {0, 10}, {10, 10}}, {}};
    const auto all = crossings(bow_tie);
    ASSERT_EQ(all.size(), 1u);
    EXPECT_EQ(all[0].side, 1u);
    EXPECT_EQ(all[0].other, 3u);
    EXPECT_LE((all[0].at - Vec2(5.0, 5.0)).norm(), 1e-9);
}

TEST(Crossings, IsFoundBetweenAHoleAndTheOutside) {
    const Region2 torn{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {{{8, 4}, {8, 6}, {12, 5}}}};
    EXPECT_TRUE(crosses_itself(torn));
}

TEST(Crossings, LetsTheTwoSidesOfAClosedSlitTouch) {
    // The slit runs in from the right and back along itself.
    const Region2 slit{{{0, 0}, {10, 0}, {10, 5}, {5, 5}, {10, 5}, {10, 10}, {0, 10}}, {}};
    EXPECT_FALSE(crosses_itself(slit));
}

TEST(Crossings, AgreesWithComparingAllEdges) {
    // Second route: every pair of edges by their orientations. Fixed start value.
    std::mt19937 random(20240704);
    std::uniform_real_distribution<double> radius(4.0, 20.0);
    int crossed = 0;
    for (int k = 0; k < 300; ++k) {
        Region2 region;
        const int n = 9;
        // Star-shaped with a shuffled pair now and then.
        for (int i = 0; i < n; ++i) {
            const double turn = 2.0 * std::numbers::pi * i / n, r = radius(random);
            region.outer.emplace_back(r * std::cos(turn), r * std::sin(turn));
        }
        if (k % 2 == 0) std::swap(region.outer[2], region.outer[5]);
        bool any = false;
        for (int i = 0; i < n; ++i)
            for (int j = i + 1; j < n; ++j) {
                const Vec2 &a = region.outer[i], &b = region.outer[(i + 1) % n];
                const Vec2 &c = region.outer[j], &d = region.outer[(j + 1) % n];
                any = any || (cross2(b - a, c - a) * cross2(b - a, d - a) < 0.0 &&
                              cross2(d - c, a - c) * cross2(d - c, b - c) < 0.0);
            }
        EXPECT_EQ(crosses_itself(region), any) << k;
        crossed += any ? 1 : 0;
    }
    EXPECT_GT(crossed, 50);
    EXPECT_LT(crossed, 250);
}

TEST(Crossings, NameTheFirstSideGoingRound) {
    // A loop whose third side is crossed by its last but one.
    const Region2 loop{{{20, 0}, {20, 10}, {10, 10}, {-5, 10}, {-5, 20}, {5, 20}, {5, 0}}, {}};
    EXPECT_EQ(first_side_crossed(loop), 2u);
    EXPECT_FALSE(first_side_crossed({{{0, 0}, {4, 0}, {4, 4}, {0, 4}}, {}}));
    // A corner that pokes a micron through a side of 10 mm: no crossing where that counts as none.
    const Region2 poked{{{0, 0}, {10, 0}, {10, 5}, {5, -0.001}, {0, 5}}, {}};
    EXPECT_TRUE(first_side_crossed(poked));
    EXPECT_FALSE(first_side_crossed(poked, 0.02));
}

/// Whether two segments cross in their insides, by solving for both shares.
bool cross_by_shares(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
    const double whole = cross2(b - a, d - c);
    if (whole == 0.0) return false;
    const double s = cross2(c - a, d - c) / whole, t = cross2(c - a, b - a) / whole;
    return s > 0.0 && s < 1.0 && t > 0.0 && t < 1.0;
}

TEST(Crossings, CrossesItselfAgreesWithEveryPairOfSides) {
    // Second route: all pairs. Ovals whose radius is shaken, so that both answers come up.
    std::mt19937 random(808);  // fixed start value
    int crossing = 0, simple = 0;
    for (int k = 0; k < 400; ++k) {
        std::vector<Vec2> loop;
        std::uniform_real_distribution<double> shake(-0.16, 0.16);
        for (int i = 0; i < 24; ++i) {
            const double a = 2.0 * std::numbers::pi * i / 24 + shake(random);
            loop.emplace_back(30 * (1 + shake(random)) * std::cos(a),
                              20 * (1 + shake(random)) * std::sin(a));
        }
        bool any = false;
        for (std::size_t i = 0; i < loop.size(); ++i)
            for (std::size_t j = i + 2; j < loop.size(); ++j) {
                if (i == 0 && j + 1 == loop.size()) continue;
                any = any ||
                      cross_by_shares(loop[i], loop[i + 1], loop[j], loop[(j + 1) % loop.size()]);
            }
        EXPECT_EQ(crosses_itself({loop, {}}), any) << k;
        (any ? crossing : simple) += 1;
    }
    EXPECT_GT(crossing, 20);
    EXPECT_GT(simple, 20);
}

}  // namespace
}  // namespace tearline::plane
