#include "core/plane/nearest_on_line.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tearline::plane {
namespace {

TEST(DistanceToLoop, IsThatOfTheNearestSideOrCorner) {
    // By hand, of a rectangle of 4 by 3; a point that stands twice is no side.
    const Loop2 loop = {{0, 0}, {4, 0}, {4, 0}, {4, 3}, {0, 3}};
    EXPECT_DOUBLE_EQ(distance_to_loop(loop, {1.0, 1.0}), 1.0);
    EXPECT_DOUBLE_EQ(distance_to_loop(loop, {2.0, -0.5}), 0.5);
    EXPECT_DOUBLE_EQ(distance_to_loop(loop, {7.0, 7.0}), 5.0) << "of the corner";
    EXPECT_DOUBLE_EQ(distance_to_loop(loop, {-0.25, 1.0}), 0.25) << "of the closing side";
    EXPECT_TRUE(std::isinf(distance_to_loop({}, {0.0, 0.0})));
}

TEST(DistanceToLine, EndsWhereTheLineDoes) {
    // By hand: the side that would close the loop above is missing.
    const Loop2 line = {{0, 0}, {4, 0}, {4, 3}, {0, 3}};
    EXPECT_DOUBLE_EQ(distance_to_line(line, {-0.25, 0.0}), 0.25);
    EXPECT_DOUBLE_EQ(distance_to_line(line, {0.0, 1.5}), 1.5);
    EXPECT_DOUBLE_EQ(distance_to_lines({{{9, 9}, {9, 8}}, line}, {8.0, 6.0}), 5.0 / std::sqrt(5.0));
    EXPECT_TRUE(std::isinf(distance_to_lines({}, {0.0, 0.0})));
}

TEST(NearestOnLoop, NamesTheSideAndThePlace) {
    const OnLine found = nearest_on_loop({{0, 0}, {4, 0}, {4, 3}, {0, 3}}, {-0.5, 2.0});
    EXPECT_EQ(found.segment, 3u);
    EXPECT_EQ(found.at, Vec2(0.0, 2.0));
    EXPECT_DOUBLE_EQ(found.distance, 0.5);
}

}  // namespace
}  // namespace tearline::plane
