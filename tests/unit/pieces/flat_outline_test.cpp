#include "core/pieces/flat_outline.h"

#include <gtest/gtest.h>

#include <random>

#include "tests/support/analytic_meshes.h"

namespace tearline::pieces {
namespace {

TEST(FlatOutline, RunsCounterClockwiseRoundTheOutsideAndClockwiseRoundHoles) {
    auto figure = test::disc(100.0, 12);
    figure = test::with_hole(figure, {-40.0, 0.0}, 20.0);
    figure = test::with_hole(figure, {45.0, 10.0}, 15.0);
    const auto mesh = test::on_cylinder(figure, 500.0);
    const Region2 region = flat_outline(mesh, figure.place);
    ASSERT_EQ(region.holes.size(), 2u);
    EXPECT_GT(signed_area(region.outer), 0.0);
    double triangles = 0.0;
    for (const auto& v : mesh.triangle)
        triangles += 0.5 * cross2(figure.place[v[1]] - figure.place[v[0]],
                                  figure.place[v[2]] - figure.place[v[0]]);
    for (const Loop2& hole : region.holes) EXPECT_LT(signed_area(hole), 0.0);
    // Green: the loops enclose what the triangles cover.
    EXPECT_NEAR(area(region), triangles, 1e-6);
    EXPECT_FALSE(crossing(region));
}

TEST(Crossing, IsFoundInABowTieAndNotInASquare) {
    const Region2 square{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {}};
    EXPECT_FALSE(crossing(square));
    const Region2 bow_tie{{{0, 0}, {10, 0}, {0, 10}, {10, 10}}, {}};
    const auto place = crossing(bow_tie);
    ASSERT_TRUE(place);
    EXPECT_LE((*place - Vec2(5.0, 5.0)).norm(), 1e-9);
}

TEST(Crossing, IsFoundBetweenAHoleAndTheOutside) {
    const Region2 torn{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {{{8, 4}, {8, 6}, {12, 5}}}};
    EXPECT_TRUE(crossing(torn));
}

TEST(Crossing, LetsTheTwoSidesOfAClosedSlitTouch) {
    // The slit runs in from the right and back along itself.
    const Region2 slit{{{0, 0}, {10, 0}, {10, 5}, {5, 5}, {10, 5}, {10, 10}, {0, 10}}, {}};
    EXPECT_FALSE(crossing(slit));
}

TEST(Crossing, AgreesWithComparingAllEdges) {
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
        EXPECT_EQ(crossing(region).has_value(), any) << k;
        crossed += any ? 1 : 0;
    }
    EXPECT_GT(crossed, 50);
    EXPECT_LT(crossed, 250);
}

}  // namespace
}  // namespace tearline::pieces
