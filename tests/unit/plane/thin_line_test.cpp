#include "core/plane/thin_line.h"

#include <gtest/gtest.h>

#include "tests/support/loops.h"

namespace tearline::plane {
namespace {

TEST(Thinned, StaysOnTheCurve) {
    const Loop2 dense = test::circle(100, {0, 0}, 5000);
    const Loop2 sparse = thinned(dense, 0.002, 5.0);
    EXPECT_LT(sparse.size(), 600u);
    EXPECT_GT(sparse.size(), 100u);
    for (std::size_t i = 0; i < sparse.size(); ++i) {
        const Vec2 middle = 0.5 * (sparse[i] + sparse[(i + 1) % sparse.size()]);
        EXPECT_GT(middle.norm(), 100 - 0.0025);
        EXPECT_LE((sparse[(i + 1) % sparse.size()] - sparse[i]).norm(), 5.0 + 1e-9);
    }
}

TEST(Thinned, KeepsCorners) {
    Loop2 square;
    for (int i = 0; i < 40; ++i) square.emplace_back(i, 0);
    for (int i = 0; i < 40; ++i) square.emplace_back(40, i);
    for (int i = 0; i < 40; ++i) square.emplace_back(40 - i, 40);
    for (int i = 0; i < 40; ++i) square.emplace_back(0, 40 - i);
    const Loop2 sparse = thinned(square, 0.002, 1000.0);
    EXPECT_NEAR(signed_area(sparse), 1600.0, 1e-9);
    EXPECT_LE(sparse.size(), 8u);
}

TEST(Thinned, LeavesOutPointsOnStraightLinesAndKeepsCorners) {
    Loop2 loop;
    for (int i = 0; i < 100; ++i) loop.emplace_back(i, 0);
    for (int i = 0; i < 100; ++i) loop.emplace_back(100, i);
    for (int i = 0; i < 100; ++i) loop.emplace_back(100 - i, 100);
    for (int i = 0; i < 100; ++i) loop.emplace_back(0, 100 - i);
    const Loop2 thin = thinned(loop, 0.005);
    EXPECT_EQ(thin.size(), 4u);
    EXPECT_DOUBLE_EQ(signed_area(thin), 10000.0);
}

TEST(Thinned, StaysWithinItsToleranceOfACircle) {
    // The sagitta of every chord of a circle is R - distance of its middle from the centre.
    const Loop2 thin = thinned(test::circle(200.0, {0, 0}, 20000), 0.005);
    EXPECT_LT(thin.size(), 700u);
    for (std::size_t i = 0; i < thin.size(); ++i)
        EXPECT_LT(200.0 - (0.5 * (thin[i] + thin[(i + 1) % thin.size()])).norm(), 0.0051);
}

}  // namespace
}  // namespace tearline::plane
