#include "core/dish/sounded_dish.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>
#include <random>

#include "tests/support/loops.h"

namespace tearline::dish::sounded_dish_test {
namespace {

using std::numbers::pi;

Region2 disc(double radius) {
    Region2 region;
    for (int i = 0; i < 360; ++i)
        region.outer.push_back(radius * Vec2(std::cos(i * pi / 180.0), std::sin(i * pi / 180.0)));
    return region;
}

/// Soundings on rings about the middle; every second ring turned by half a step.
std::vector<ChartSounding> on_rings(const std::vector<std::pair<double, int>>& rings,
                                    const std::function<double(const Vec2&)>& depth) {
    std::vector<ChartSounding> all;
    for (const auto& [radius, count] : rings)
        for (int i = 0; i < count; ++i) {
            const double a = 2.0 * pi * (i + (all.size() % 2 == 0 ? 0.5 : 0.0)) / count;
            const Vec2 at = radius * Vec2(std::cos(a), std::sin(a));
            all.push_back(
                {at, depth(at), "damage.sounding[" + std::to_string(all.size() + 1) + "]"});
        }
    return all;
}

/// A spherical hollow 6 mm deep and 240 mm across: d(r) = 6 - (rho - sqrt(rho^2 - r^2)).
constexpr double deep = 6.0, rim = 120.0, rho = (rim * rim + deep * deep) / (2.0 * deep);
double hollow(const Vec2& p) {
    return deep - (rho - std::sqrt(rho * rho - p.squaredNorm()));
}
/// Its radius at a depth.
double radius_at(double depth) {
    const double fall = deep - depth;
    return std::sqrt(2.0 * rho * fall - fall * fall);
}

SoundedDish spherical() {
    auto dish = SoundedDish::through(
        {disc(rim)}, on_rings({{0, 1}, {30, 6}, {60, 12}, {90, 16}, {110, 20}}, hollow));
    EXPECT_TRUE(dish);
    return std::move(*dish);
}

TEST(SoundedDish, SphericalHollowComesBack) {
    const SoundedDish dish = spherical();
    for (double r = 0.0; r < rim; r += 7.0)
        for (int k = 0; k < 12; ++k) {
            const Vec2 p = r * Vec2(std::cos(k * 0.5), std::sin(k * 0.5));
            // A millimetre of edge on a wall of 1 in 12.
            EXPECT_NEAR(dish.depth(p), hollow(p), 1.0 / 12.0) << r;
        }
    EXPECT_DOUBLE_EQ(dish.deepest(), deep);
    EXPECT_TRUE(dish.warnings().empty());
}

TEST(SoundedDish, AreasOfItsLevelsAreThoseOfTheClosedForm) {
    const SoundedDish dish = spherical();
    for (const double level : {0.5, 1.5, 3.0, 4.5, 5.5}) {
        const double r = radius_at(level);
        const auto regions = dish.deeper_than(level);
        ASSERT_EQ(regions.size(), 1u) << level;
        EXPECT_TRUE(regions.front().holes.empty());
        EXPECT_NEAR(test::area_of(regions), pi * r * r, 2.0 * pi * r * 0.5) << level;
        for (const Vec2& p : regions.front().outer) EXPECT_NEAR(p.norm(), r, 1.0) << level;
    }
}

TEST(SoundedDish, IsZeroOutsideTheGroundAreaAndNeverBelowIt) {
    // Deep close to the edge on one side only: the bent plate would swing over beyond it.
    const auto lopsided = [](const Vec2& p) { return p.x() > 60.0 ? 5.0 : 0.3; };
    const auto dish =
        SoundedDish::through({disc(120)}, on_rings({{0, 1}, {60, 8}, {105, 16}}, lopsided));
    ASSERT_TRUE(dish);
    for (double x = -160.0; x <= 160.0; x += 4.0)
        for (double y = -160.0; y <= 160.0; y += 4.0) {
            const double depth = dish->depth({x, y});
            EXPECT_GE(depth, 0.0);
            EXPECT_LE(depth, 5.0);
            if (std::hypot(x, y) > 120.0) {
                EXPECT_EQ(depth, 0.0);
            }
        }
}

TEST(SoundedDish, DepthGoesSmoothlyWhereverTheGroundsEdgeCloses) {
    // Lopsided grounds and soundings at random (seed 7): the depth rises from place to place as its
    // slope says. Where the edge's first point came in twice, a hair's breadth apart, the depth
    // went in steps of up to 0.01 mm, and edges of plies waved by 0.6 mm.
    std::mt19937 random(7);
    RecordProperty("seed", 7);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    int tried = 0;
    for (int round = 0; round < 40; ++round) {
        const Vec2 middle(200.0 * share(random), 200.0 * share(random));
        const double across = 80.0 + 160.0 * share(random);
        const double phase = 2.0 * pi * share(random);
        const auto edge = [&](double a) {
            return across * (1.0 + 0.1 * std::cos(2.0 * a + phase));
        };
        const int corners = 100 + static_cast<int>(400.0 * share(random));
        Region2 ground;
        for (int i = 0; i < corners; ++i) {
            const double a = 2.0 * pi * i / corners;
            ground.outer.push_back(middle + edge(a) * Vec2(std::cos(a), std::sin(a)));
        }
        std::vector<ChartSounding> soundings;
        for (int i = 0; i < 15; ++i) {
            const double a = 2.0 * pi * share(random), f = 0.8 * std::sqrt(share(random));
            soundings.push_back({middle + f * edge(a) * Vec2(std::cos(a), std::sin(a)),
                                 deep * (1.0 - f * f), "sounding " + std::to_string(i)});
        }
        const auto dish = SoundedDish::through({ground}, soundings);
        ASSERT_TRUE(dish) << dish.error().message();
        for (int i = 0; i < 200; ++i) {
            const double a = 2.0 * pi * i / 200;
            const Vec2 p = middle + 0.85 * edge(a) * Vec2(std::cos(a), std::sin(a));
            const Vec2 on = p + Vec2(1e-3, 0.0);
            const double here = dish->depth(p), there = dish->depth(on);
            if (std::min(here, there) <= 0.0 || std::max(here, there) >= dish->deepest()) continue;
            // Second order in a step of 1e-3 mm on curvatures of 1/100 mm: 1e-8 mm at most.
            EXPECT_NEAR(there - here, dish->slope(p).x() * 1e-3, 1e-7) << "round " << round;
            ++tried;
        }
    }
    EXPECT_GT(tried, 4000);
}

TEST(SoundedDish, NamesTheSoundingThatDisagrees) {
    // Read to half a millimetre (seed 5); number 8 read 4 mm too shallow.
    std::mt19937 random(5);
    std::uniform_real_distribution<double> error(-0.25, 0.25);
    RecordProperty("seed", 5);
    auto soundings = on_rings({{0, 1}, {45, 6}, {75, 10}, {100, 12}}, [&](const Vec2& p) {
        return std::max(0.0, hollow(p) + error(random));
    });
    const auto sound = SoundedDish::through({disc(rim)}, soundings);
    ASSERT_TRUE(sound);
    EXPECT_TRUE(sound->warnings().empty());
    soundings[5].depth -= 4.0;
    const auto dish = SoundedDish::through({disc(rim)}, soundings);
    ASSERT_TRUE(dish);
    ASSERT_EQ(dish->warnings().size(), 1u);
    EXPECT_EQ(dish->warnings().front().code(), "sounding-disagrees");
    EXPECT_EQ(dish->warnings().front().words().told.rfind("damage.sounding[6]", 0), 0u)
        << dish->warnings().front().words().told;
}

TEST(SoundedDish, DoesNotBlameTheOnlySoundingOfAFlatFloor) {
    // A frustum: floor of radius 80, 6 mm deep, a wall of 1 in 12. Only one sounding stands on the
    // floor away from its edge.
    const auto frustum = [](const Vec2& p) {
        return std::clamp(6.0 - (p.norm() - 80.0) / 12.0, 0.0, 6.0);
    };
    const auto dish = SoundedDish::through(
        {disc(152)}, on_rings({{0, 1}, {80, 12}, {100, 12}, {120, 12}, {140, 12}}, frustum));
    ASSERT_TRUE(dish);
    EXPECT_TRUE(dish->warnings().empty());
}

TEST(SoundedDish, RefusesTwoSoundingsOfOnePlaceThatDiffer) {
    auto soundings = on_rings({{0, 1}, {60, 8}}, hollow);
    soundings.push_back({soundings[3].at + Vec2(0.5, 0), soundings[3].depth + 3.0, "again"});
    const auto dish = SoundedDish::through({disc(rim)}, soundings);
    ASSERT_FALSE(dish);
    for (const char* word : {"damage.sounding[4]", "again", "differ by 3.0 mm"})
        EXPECT_NE(dish.error().message().find(word), std::string::npos) << dish.error().message();
}

TEST(SoundedDish, RefusesOnePlaceSoundedAgainAndAgain) {
    std::vector<ChartSounding> soundings;
    for (int i = 0; i < 6; ++i) soundings.push_back({Vec2(0.1 * i, 0.0), 4.0, "a sounding"});
    const auto dish = SoundedDish::through({disc(rim)}, soundings);
    ASSERT_FALSE(dish);
    EXPECT_NE(dish.error().message().find("6 soundings in only 1 place(s)"), std::string::npos)
        << dish.error().message();
}

TEST(StillToGrind, IsWhatLiesBetweenAConeAndASteeperOne) {
    // A pit 6 mm deep with walls of 1 in 4 and a floor of radius 30: 1 in 12 reaches to radius
    // 30 + 72. At radius r the pit is 6 - (r - 30)/4 deep, the gentle one 6 - (r - 30)/12.
    plane::GridField pit;
    pit.low = Vec2(-130, -130);
    pit.step = 2.0;
    pit.columns = pit.rows = 131;
    pit.value.resize(131 * 131);
    const auto depth = [](double r, double ratio) {
        return std::clamp(6.0 - (r - 30.0) / ratio, 0.0, 6.0);
    };
    for (int r = 0; r < pit.rows; ++r)
        for (int c = 0; c < pit.columns; ++c) pit.at(c, r) = depth(pit.place(c, r).norm(), 4.0);
    const plane::GridField more = still_to_grind(pit, 12.0);
    for (int r = 0; r < pit.rows; ++r)
        for (int c = 0; c < pit.columns; ++c) {
            const double away = pit.place(c, r).norm();
            // First-order sweeping: a cell's fall, 2 mm / 12, is its error at most.
            EXPECT_NEAR(more.at(c, r), depth(away, 12.0) - depth(away, 4.0), 2.0 / 12.0) << away;
        }
    const plane::GridField gentle = still_to_grind(pit, 3.9);
    for (const double left : gentle.value) EXPECT_NEAR(left, 0.0, 2.0 / 3.9 * 0.3);
}

}  // namespace
}  // namespace tearline::dish::sounded_dish_test
