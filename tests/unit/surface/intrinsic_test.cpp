#include "core/surface/intrinsic.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>

namespace tearline::surface {
namespace {

constexpr std::uint32_t start_value = 20261129;

class Intrinsic : public testing::Test {
protected:
    double between(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random_);
    }
    Vec2 point() { return {between(-50, 50), between(-50, 50)}; }
    Vec3 unit() {
        std::normal_distribution<double> normal;
        return Vec3(normal(random_), normal(random_), normal(random_)).normalized();
    }
    std::mt19937 random_{start_value};
};

TEST_F(Intrinsic, ThirdCornerComesBackFromItsDistances) {
    // Round trip: any triangle that turns left, rebuilt from two corners and two lengths.
    for (int k = 0; k < 500; ++k) {
        const Vec2 a = point(), b = point(), c = point();
        if (!(cross2(b - a, c - a) > 1.0)) continue;
        const Vec2 found = third_corner(a, b, (c - b).norm(), (a - c).norm());
        EXPECT_LT((found - c).norm(), 1e-9) << k;
    }
}

TEST_F(Intrinsic, ThirdCornerOfLengthsThatDoNotMeetLiesOnTheLine) {
    // 3 + 4 < 10: by the formula x = (c2 + ca2 - bc2) / 2c = (100 + 16 - 9) / 20 from a, no height.
    const Vec2 found = third_corner({0, 0}, {10, 0}, 3.0, 4.0);
    EXPECT_NEAR(found.x(), 5.35, 1e-12);
    EXPECT_EQ(found.y(), 0.0);
    EXPECT_EQ(third_corner({7, 7}, {7, 7}, 3.0, 4.0), Vec2(7, 7)) << "no edge to stand on";
}

TEST_F(Intrinsic, LaysFlatWithItsLengthsCornerOneOnX) {
    // A 3-4-5 triangle by hand: right angle at corner 1.
    const FlatTriangle right = lay_flat({3.0, 4.0, 5.0});
    EXPECT_EQ(right[0], Vec2(0, 0));
    EXPECT_EQ(right[1], Vec2(3, 0));
    EXPECT_NEAR(right[2].x(), 3.0, 1e-12);
    EXPECT_NEAR(right[2].y(), 4.0, 1e-12);
    for (int k = 0; k < 200; ++k) {
        const double a = between(1, 9), b = between(1, 9);
        const double c = between(std::abs(a - b) + 1e-3, a + b - 1e-3);
        const FlatTriangle f = lay_flat({a, b, c});
        EXPECT_NEAR((f[1] - f[0]).norm(), a, 1e-12);
        EXPECT_NEAR((f[2] - f[1]).norm(), b, 1e-12);
        EXPECT_NEAR((f[0] - f[2]).norm(), c, 1e-12);
        EXPECT_GE(f[2].y(), 0.0);
    }
}

TEST_F(Intrinsic, WeightRatesMoveThePointByTheDirection) {
    // Second route: the corners weighted with the rates are the direction itself, and a step from
    // any place changes no sum of weights.
    for (int k = 0; k < 200; ++k) {
        const FlatTriangle f{point(), point(), point()};
        if (!(std::abs(cross2(f[1] - f[0], f[2] - f[0])) > 1.0)) continue;
        const Vec2 d = point();
        const Vec3 rate = weight_rates(f, d);
        EXPECT_NEAR(rate.sum(), 0.0, 1e-12 * rate.norm());
        EXPECT_LT((rate[0] * f[0] + rate[1] * f[1] + rate[2] * f[2] - d).norm(), 1e-9);
    }
}

TEST_F(Intrinsic, CarriesOverByTheLeastRotation) {
    // Second route: the quaternion between two vectors.
    for (int k = 0; k < 200; ++k) {
        const Vec3 from = unit(), to = unit(), d = between(0.1, 30) * unit();
        const Vec3 expected = Eigen::Quaterniond::FromTwoVectors(from, to) * d;
        EXPECT_LT((carry_over(d, from, to) - expected).norm(), 1e-9) << from.dot(to);
    }
}

TEST_F(Intrinsic, CarryingThereAndBackIsNothing) {
    for (int k = 0; k < 100; ++k) {
        const Vec3 from = unit(), to = unit(), d = unit();
        EXPECT_LT((carry_over(carry_over(d, from, to), to, from) - d).norm(), 1e-10);
        // What both are square to is the axis: it stays.
        const Vec3 axis = from.cross(to);
        EXPECT_LT((carry_over(axis, from, to) - axis).norm(), 1e-12);
        EXPECT_LT((carry_over(from, from, to) - to).norm(), 1e-12);
    }
    // Opposite ways have no least rotation: the direction is left alone.
    const Vec3 up(0, 0, 1), d(1, 2, 3);
    EXPECT_EQ(carry_over(d, up, -up), d);
}

}  // namespace
}  // namespace tearline::surface
