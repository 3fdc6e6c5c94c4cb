#include "core/plane/loop_distance.h"

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

}  // namespace
}  // namespace tearline::plane
