#include "core/plies/open_and_close.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/loops.h"

namespace tearline::plies {
namespace {

using std::numbers::pi;

TEST(OpenAndClose, DropsANarrowPartAndSaysHowMuch) {
    // A disc 24 mm across, 60 mm off the other: too narrow and too far.
    const auto tidy =
        open_and_close({{test::circle(50), {}}, {test::circle(12, Vec2(122, 0)), {}}}, 25.0);
    ASSERT_EQ(tidy.regions.size(), 1u);
    EXPECT_EQ(tidy.dropped, 1);
    EXPECT_NEAR(tidy.dropped_mm2, pi * 144.0, 0.5);
}

TEST(OpenAndClose, JoinsANarrowPartToItsNeighbour) {
    // 6 mm between them: closed as a slit narrower than a sliver.
    const auto tidy =
        open_and_close({{test::circle(50), {}}, {test::circle(12, Vec2(68, 0)), {}}}, 25.0);
    ASSERT_EQ(tidy.regions.size(), 1u);
    EXPECT_EQ(tidy.joined, 1);
    EXPECT_GT(area(tidy.regions.front()), pi * (2500.0 + 144.0));
}

/// A disc with a strip `half` mm to both sides of the way from one point to another, united.
Loop2 disc_with_strip(double radius, double half, double reach) {
    Loop2 loop;
    const double from = std::asin(half / radius);
    for (int i = 0; i <= 360; ++i) {
        const double a = from + (2.0 * pi - 2.0 * from) * i / 360.0;
        loop.push_back(radius * Vec2(std::cos(a), std::sin(a)));
    }
    loop.emplace_back(reach, -half);
    loop.emplace_back(reach, half);
    return loop;
}

TEST(OpenAndClose, CutsOffATailThatScissorsDoNotFollow) {
    // 6 mm wide and 60 mm long: off. Where it was, the disc is rounded by less than its width.
    const auto tidy = open_and_close({{disc_with_strip(50.0, 3.0, 110.0), {}}}, 25.0);
    ASSERT_EQ(tidy.regions.size(), 1u);
    EXPECT_EQ(tidy.tails, 1);
    EXPECT_NEAR(area(tidy.regions.front()), pi * 2500.0, 15.0);
    for (const Vec2& p : tidy.regions.front().outer) EXPECT_LT(p.norm(), 53.0);
}

TEST(OpenAndClose, FillsAnInletThatScissorsDoNotFollow) {
    // 6 mm wide, from the edge to 20 mm from the middle.
    const auto tidy = open_and_close({{disc_with_strip(50.0, 3.0, 20.0), {}}}, 25.0);
    ASSERT_EQ(tidy.regions.size(), 1u);
    EXPECT_EQ(tidy.inlets, 1);
    // But for a dimple between its two corners, which are rounded to half of 10 mm.
    for (const Vec2& p : tidy.regions.front().outer) EXPECT_NEAR(p.norm(), 50.0, 5.0);
}

TEST(OpenAndClose, PartsTwoDiscsAtANarrowNeck) {
    Loop2 dumbbell = disc_with_strip(40.0, 2.0, 60.0);
    dumbbell.resize(dumbbell.size() - 2);
    Loop2 other(dumbbell.rbegin(), dumbbell.rend());
    for (Vec2& p : other) p = Vec2(120.0 - p.x(), p.y());
    dumbbell.insert(dumbbell.end(), other.begin(), other.end());
    if (signed_area(dumbbell) < 0.0) std::reverse(dumbbell.begin(), dumbbell.end());
    const auto tidy = open_and_close({{dumbbell, {}}}, 25.0);
    EXPECT_EQ(tidy.regions.size(), 2u);
    EXPECT_EQ(tidy.tails, 1);
}

TEST(OpenAndClose, LeavesARoundedShapeAsItIs) {
    // Nothing is narrow, so no point is touched: the same points, not only the same shape.
    const Region2 disc{test::circle(50), {}};
    const auto tidy = open_and_close({disc}, 25.0);
    ASSERT_EQ(tidy.regions.size(), 1u);
    EXPECT_EQ(tidy.regions.front().outer, disc.outer);
    EXPECT_EQ(tidy.tails + tidy.inlets, 0);
}

TEST(OpenAndClose, LeavesNoSpurWhereItEvensAnEdge) {
    // Wavy edges at random (seed 11): what is evened turns nowhere back on itself.
    std::mt19937 random(11);
    RecordProperty("seed", 11);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    int evened = 0;
    for (int round = 0; round < 80; ++round) {
        std::vector<std::pair<double, double>> waves;
        for (int k = 0; k < 24; ++k)
            waves.emplace_back(4.0 * share(random), 2.0 * pi * share(random));
        Loop2 loop;
        for (int i = 0; i < 360; ++i) {
            const double a = 2.0 * pi * i / 360.0;
            double r = 60.0;
            for (std::size_t k = 0; k < waves.size(); ++k)
                r += waves[k].first * std::cos(static_cast<double>(k + 2) * a + waves[k].second);
            loop.push_back(std::max(5.0, r) * Vec2(std::cos(a), std::sin(a)));
        }
        const auto tidy = open_and_close({{loop, {}}}, 25.0);
        if (tidy.tails + tidy.inlets == 0) continue;
        ++evened;
        for (const Region2& region : tidy.regions)
            for (std::size_t i = 0, n = region.outer.size(); i < n; ++i) {
                const Vec2 in = region.outer[i] - region.outer[(i + n - 1) % n];
                const Vec2 out = region.outer[(i + 1) % n] - region.outer[i];
                if (std::min(in.norm(), out.norm()) < 0.5) continue;
                EXPECT_GT(in.normalized().dot(out.normalized()), -0.9) << "round " << round;
            }
    }
    EXPECT_GT(evened, 30);
}

TEST(OpenAndClose, ClosesNarrowOpeningsAndKeepsWideOnes) {
    Loop2 narrow = test::circle(10, Vec2(-60, 0)), wide = test::circle(30, Vec2(40, 0));
    std::reverse(narrow.begin(), narrow.end());
    std::reverse(wide.begin(), wide.end());
    const auto tidy = open_and_close({{test::circle(100), {narrow, wide}}}, 25.0);
    ASSERT_EQ(tidy.regions.size(), 1u);
    EXPECT_EQ(tidy.regions.front().holes.size(), 1u);
    EXPECT_EQ(tidy.joined, 1);
    EXPECT_EQ(tidy.closed, 1);
}

}  // namespace
}  // namespace tearline::plies
