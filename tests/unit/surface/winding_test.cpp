#include "core/surface/winding.h"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <numbers>

#include "tests/support/analytic_patch.h"

namespace tearline::surface {
namespace {

constexpr double radius = 20.0, girth = 2.0 * std::numbers::pi * radius;

/// A cylinder rolled out for a turn and six tenths, columns of triangles twenty a turn: each
/// triangle with the one of the tube that it stands for.
struct RolledOut {
    Patch patch;
    std::vector<std::int32_t> source;
    std::vector<int> turn;

    RolledOut() {
        const double column = girth / 20.0, edge = column * 2.0 / std::sqrt(3.0);
        patch = test::analytic_patch(test::cylinder_map(radius),
                                     test::within_box(0.8 * girth + 0.1, 20.0), girth, edge);
        std::map<std::pair<int, int>, std::int32_t> known;
        for (const auto& t : patch.mesh.triangle) {
            const Vec2 middle = (patch.chart[t[0]] + patch.chart[t[1]] + patch.chart[t[2]]) / 3.0;
            const int turns = static_cast<int>(std::floor(middle.x() / girth + 0.5));
            const Vec2 on_tube(middle.x() - turns * girth, middle.y());
            const std::pair key(static_cast<int>(std::lround(10.0 * on_tube.x())),
                                static_cast<int>(std::lround(10.0 * on_tube.y())));
            source.push_back(
                known.try_emplace(key, static_cast<std::int32_t>(known.size())).first->second);
            turn.push_back(turns);
        }
    }
    [[nodiscard]] Winding winding() const { return {source, turn}; }
};

TEST(Winding, TurnsAPlaceByTheGirthAndNoFartherThanTheChartGoes) {
    const RolledOut rolled;
    const Winding winding = rolled.winding();
    int seen = 0;
    for (double x = -0.75 * girth; x < 0.75 * girth; x += 3.7) {
        const Vec2 p(x, 5.3);
        const auto on = winding.turned(rolled.patch, p, 1),
                   back = winding.turned(rolled.patch, p, -1);
        // By hand: the chart reaches 0.8 of a girth to each side.
        EXPECT_EQ(on.has_value(), x < -0.2 * girth) << x;
        EXPECT_EQ(back.has_value(), x > 0.2 * girth) << x;
        if (on) {
            EXPECT_LT((*on - (p + Vec2(girth, 0))).norm(), 1e-9);
            ++seen;
        }
        if (back) {
            EXPECT_LT((*back - (p - Vec2(girth, 0))).norm(), 1e-9);
        }
        EXPECT_FALSE(winding.turned(rolled.patch, p, 2));
        const auto same = winding.turned(rolled.patch, p, 0);
        ASSERT_TRUE(same);
        EXPECT_LT((*same - p).norm(), 1e-9);
    }
    EXPECT_GT(seen, 10);
}

TEST(Winding, PlacesATurnApartAreOnePlaceInSpace) {
    const RolledOut rolled;
    const Winding winding = rolled.winding();
    const Vec2 p(-0.6 * girth, -7.1);
    const auto on = winding.turned(rolled.patch, p, 1);
    ASSERT_TRUE(on);
    const auto here = rolled.patch.sample(*rolled.patch.locate(p));
    const auto there = rolled.patch.sample(*rolled.patch.locate(*on));
    EXPECT_LT((here.position - there.position).norm(), 1e-9);
    EXPECT_LT((here.normal - there.normal).norm(), 1e-9);
}

TEST(Winding, PairsAreEveryVertexWithItsOwnATurnOnOnce) {
    const RolledOut rolled;
    const auto pairs = rolled.winding().pairs(rolled.patch);
    ASSERT_FALSE(pairs.empty());
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const auto& [a, b] = pairs[i];
        EXPECT_LT((rolled.patch.chart[b] - rolled.patch.chart[a] - Vec2(girth, 0)).norm(), 1e-9);
        if (i == 0) continue;
        EXPECT_LT(pairs[i - 1], pairs[i]) << "in order, none twice";
    }
    // Second route: every vertex that has one so far on.
    std::size_t count = 0;
    for (const Vec2& p : rolled.patch.chart)
        for (const Vec2& q : rolled.patch.chart)
            if ((q - p - Vec2(girth, 0)).norm() < 1e-6) ++count;
    EXPECT_EQ(pairs.size(), count);
}

TEST(Winding, OfOneTurnHasNoPairs) {
    RolledOut rolled;
    rolled.turn.assign(rolled.turn.size(), 0);
    for (std::size_t t = 0; t < rolled.source.size(); ++t)
        rolled.source[t] = static_cast<std::int32_t>(t);
    EXPECT_TRUE(rolled.winding().pairs(rolled.patch).empty());
    EXPECT_FALSE(rolled.winding().turned(rolled.patch, {0, 0}, 1));
}

}  // namespace
}  // namespace tearline::surface
