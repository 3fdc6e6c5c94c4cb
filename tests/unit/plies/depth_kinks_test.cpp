#include "core/plies/depth_kinks.h"

#include <gtest/gtest.h>

namespace tearline::plies {
namespace {

/// A dish 8 mm deep at 12:1 with two plies of 4 mm and a cover of 1 mm, by hand.
struct TwoPlies {
    PlyLevels levels;

    TwoPlies() {
        levels.dish = {{0, 8}, {96, 0}};
        levels.plies.resize(3);
        for (int k = 0; k < 3; ++k) {
            PlyLevel& ply = levels.plies[static_cast<std::size_t>(k)];
            ply.number = k + 1;
            ply.thickness = k < 2 ? 4.0 : 1.0;
            ply.rest_depth = 8.0 - 4.0 * k;
            ply.edge_offset = k < 2 ? 48.0 * (k + 1) : 121.0;
            ply.lies = k < 2 ? Lies::level : Lies::resting;
        }
    }
};

TEST(DepthKinks, AreNoneInPliesOfConstantDepth) {
    const TwoPlies two;
    EXPECT_TRUE(depth_kinks(two.levels.dish, two.levels.plies[1]).empty());
}

TEST(DepthKinks, AreFootAndTopOfTheScarfInPliesThatFollowTheDish) {
    const TwoPlies two;
    PlyLevel narrow = two.levels.plies[0];
    narrow.lies = Lies::along;
    PlyLevel wide = narrow;
    wide.edge_offset = 130.0;
    EXPECT_EQ(depth_kinks(two.levels.dish, wide), (std::vector<double>{0.0, 96.0}));
    EXPECT_EQ(depth_kinks(two.levels.dish, narrow), (std::vector<double>{0.0}));
    // A dish that was sounded is smooth.
    EXPECT_TRUE(depth_kinks({}, wide).empty());
}

TEST(DepthKinks, AreWhereACoverLeavesTheFillOfTheDish) {
    // Over a full dish D - H = 0: the cover lies at the base surface throughout.
    TwoPlies two;
    EXPECT_TRUE(depth_kinks(two.levels.dish, two.levels.plies[2]).empty());
    // A dish filled to 2 mm short: the cover lies at 2 mm up to where the dish is 2 mm deep, 72 mm
    // out.
    two.levels.plies[2].rest_depth = 2.0;
    const auto kinks = depth_kinks(two.levels.dish, two.levels.plies[2]);
    ASSERT_EQ(kinks.size(), 2u);
    EXPECT_NEAR(kinks[0], 72.0, 1e-12);
    EXPECT_NEAR(kinks[1], 96.0, 1e-12);
}

TEST(DepthKinks, AreWhereTheDepthIndeedBends) {
    // Second route: the slope of lay_depth_over, by differences on both sides.
    TwoPlies two;
    two.levels.plies[2].rest_depth = 2.0;
    const PlyLevel& cover = two.levels.plies[2];
    const auto depth = [&](double e) { return lay_depth_over(cover, dish_depth(two.levels, e)); };
    for (double e = 1.0; e < 121.0; e += 0.5) {
        const double bend = std::abs(depth(e + 0.1) - 2 * depth(e) + depth(e - 0.1));
        double nearest = 1e300;
        for (const double kink : depth_kinks(two.levels.dish, cover))
            nearest = std::min(nearest, std::abs(kink - e));
        EXPECT_EQ(bend > 1e-6, nearest < 0.1) << e;
    }
}

TEST(WithoutSharedRuns, KeepsOneLineOfTwoThatRunAlongEachOther) {
    // Two levels cut along x = 0, the inner one's run within the outer one's, a little beside it.
    const std::vector<Vec2> inner{{0.004, 2}, {-5, 2}, {-5, 8}, {0.004, 8}, {0.004, 2}};
    const std::vector<Vec2> outer{{0, 0}, {-9, 0}, {-9, 10}, {0, 10}, {0, 0}};
    const auto lines = without_shared_runs({inner, outer});
    ASSERT_EQ(lines.size(), 2u);
    EXPECT_EQ(lines[0], outer);
    EXPECT_EQ(lines[1], (std::vector<Vec2>{{-5, 2}, {-5, 8}}));
    // Apart they are as they were.
    const std::vector<Vec2> aside{{-1, 2}, {-5, 2}, {-5, 8}, {-1, 8}, {-1, 2}};
    EXPECT_EQ(without_shared_runs({aside, outer}).back(), aside);
}

TEST(EdgeLines, CloseEveryLoop) {
    NetRegion region;
    region.chart.push_back({{{0, 0}, {9, 0}, {9, 9}}, {{{4, 2}, {5, 3}, {5, 2}}}});
    const auto lines = edge_lines(region);
    ASSERT_EQ(lines.size(), 2u);
    for (const auto& line : lines) {
        EXPECT_EQ(line.size(), 4u);
        EXPECT_EQ(line.front(), line.back());
    }
}

}  // namespace
}  // namespace tearline::plies
