#include "core/plane/segment.h"

#include <gtest/gtest.h>

namespace tearline::plane {
namespace {

// By hand: triangles of sides 3, 4, 5.
TEST(Segment, IsNearestAtAFootOrAnEnd) {
    const Vec2 a(0, 0), b(10, 0);
    EXPECT_DOUBLE_EQ(nearest_share(a, b, Vec2(2.5, 7)), 0.25);
    EXPECT_DOUBLE_EQ(distance_to_segment(a, b, Vec2(2.5, -7)), 7.0);
    EXPECT_DOUBLE_EQ(nearest_share(a, b, Vec2(-3, 4)), 0.0);
    EXPECT_DOUBLE_EQ(distance_to_segment(a, b, Vec2(-3, 4)), 5.0);
    EXPECT_DOUBLE_EQ(nearest_share(a, b, Vec2(13, 4)), 1.0);
    EXPECT_DOUBLE_EQ(distance_to_segment(a, b, Vec2(13, 4)), 5.0);
}

TEST(Segment, IsTheSameInSpace) {
    // The diagonal of a cube of 3 and a corner that lies off it by the root of 6: sqrt(2/3) x 3.
    const Vec3 a(0, 0, 0), b(3, 3, 3);
    EXPECT_DOUBLE_EQ(nearest_share(a, b, Vec3(3, 0, 0)), 1.0 / 3.0);
    EXPECT_DOUBLE_EQ(distance_to_segment(a, b, Vec3(3, 0, 0)), std::sqrt(6.0));
}

TEST(Segment, WithoutLengthIsAPoint) {
    EXPECT_DOUBLE_EQ(distance_to_segment(Vec2(1, 1), Vec2(1, 1), Vec2(4, 5)), 5.0);
    EXPECT_DOUBLE_EQ(nearest_share(Vec2(1, 1), Vec2(1, 1), Vec2(4, 5)), 0.0);
}

}  // namespace
}  // namespace tearline::plane
