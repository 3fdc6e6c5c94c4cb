// The plate that bends least against a dense solve in the test's own terms, and by what must hold
// of any least one.
#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <random>

#include "core/dish/thin_plate.h"

namespace tearline::dish {
namespace {

/// Duchon's interpolant r^2 ln r with a plane, in millimetres and unscaled.
class DensePlate {
public:
    explicit DensePlate(const std::vector<PlatePoint>& points) : points_(points) {
        const auto n = static_cast<Eigen::Index>(points.size());
        Eigen::MatrixXd system = Eigen::MatrixXd::Zero(n + 3, n + 3);
        Eigen::VectorXd right = Eigen::VectorXd::Zero(n + 3);
        for (Eigen::Index i = 0; i < n; ++i) {
            const Vec2& a = points[static_cast<std::size_t>(i)].at;
            for (Eigen::Index j = 0; j < n; ++j)
                system(i, j) = kernel((a - points[static_cast<std::size_t>(j)].at).norm());
            system.row(i).tail(3) << 1.0, a.x(), a.y();
            system.col(i).tail(3) = system.row(i).tail(3).transpose();
            right[i] = points[static_cast<std::size_t>(i)].height;
        }
        weight_ = system.fullPivLu().solve(right);
    }
    [[nodiscard]] double at(const Vec2& p) const {
        const auto n = static_cast<Eigen::Index>(points_.size());
        double sum = weight_[n] + weight_[n + 1] * p.x() + weight_[n + 2] * p.y();
        for (Eigen::Index i = 0; i < n; ++i)
            sum += weight_[i] * kernel((p - points_[static_cast<std::size_t>(i)].at).norm());
        return sum;
    }

private:
    static double kernel(double r) { return r > 0.0 ? r * r * std::log(r) : 0.0; }
    std::vector<PlatePoint> points_;
    Eigen::VectorXd weight_;
};

std::vector<PlatePoint> strewn(std::mt19937& random, int count, double share_at_least) {
    std::uniform_real_distribution<double> across(-150.0, 150.0), height(0.0, 20.0), any(0.0, 1.0);
    std::vector<PlatePoint> out;
    for (int i = 0; i < count; ++i) {
        const double x = across(random), y = across(random), h = height(random);
        out.push_back({{x, y}, h, i > 3 && any(random) < share_at_least});
    }
    return out;
}

TEST(ThinPlate, IsDuchonsInterpolant) {
    // Second route: the dense system; scaling changes r^2 ln r by a multiple of r^2, which the
    // plate's own conditions take out again.
    std::mt19937 random(1977);  // fixed start value
    for (int k = 0; k < 10; ++k) {
        const auto points = strewn(random, 5 + 3 * k, 0.0);
        const ThinPlate plate(points);
        const DensePlate dense(points);
        for (const PlatePoint& p : points) EXPECT_NEAR(plate.at(p.at), p.height, 1e-8);
        for (const Vec2& p : {Vec2(0, 0), Vec2(33, -71), Vec2(-160, 20)})
            EXPECT_NEAR(plate.at(p), dense.at(p), 1e-6) << k;
    }
}

TEST(ThinPlate, AboveOthersIsTheLeastThatStaysAbove) {
    // What must hold of the one least plate: it falls below no point, and is that of the points it
    // touches alone, each of which holds it: without that point it would fall below it.
    std::mt19937 random(2002);
    int passed = 0, held = 0;
    for (int k = 0; k < 12; ++k) {
        const auto points = strewn(random, 14, 0.6);
        const ThinPlate plate(points);
        std::vector<PlatePoint> touched;
        for (const PlatePoint& p : points) {
            const double above = plate.at(p.at) - p.height;
            EXPECT_GE(above, -1e-6);
            if (!p.at_least) {
                EXPECT_NEAR(above, 0.0, 1e-7);
            }
            if (above < 1e-6)
                touched.push_back(p);
            else
                ++passed;
        }
        const DensePlate same(touched);
        for (const Vec2& p : {Vec2(10, 0), Vec2(-80, 95)})
            EXPECT_NEAR(plate.at(p), same.at(p), 1e-5) << k;
        for (std::size_t i = 0; i < touched.size(); ++i) {
            if (!touched[i].at_least) continue;
            ++held;
            auto without = touched;
            without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
            EXPECT_LE(DensePlate(without).at(touched[i].at), touched[i].height + 1e-6);
        }
    }
    EXPECT_GT(passed, 10);
    EXPECT_GT(held, 10);
}

TEST(ThinPlate, MovesAndGrowsWithItsPoints) {
    // Similarity: points moved, turned and grown by a factor give the same heights there.
    std::mt19937 random(4);
    const auto points = strewn(random, 12, 0.3);
    const Eigen::Matrix2d turn = 2.5 * Eigen::Rotation2Dd(0.7).toRotationMatrix();
    auto moved = points;
    for (PlatePoint& p : moved) p.at = turn * p.at + Vec2(5000, -300);
    const ThinPlate here(points), there(moved);
    for (const Vec2& p : {Vec2(0, 0), Vec2(60, -90), Vec2(-20, 130)})
        EXPECT_NEAR(there.at(turn * p + Vec2(5000, -300)), here.at(p), 1e-6);
}

TEST(ThinPlate, SlopesAsItsDifferences) {
    // Second route: central differences, whose error over 2 x 0.01 mm is far below 1e-6 away from
    // the points, where the third derivatives are small.
    const ThinPlate plate(
        {{{0, 0}, 0.0}, {{90, 5}, 4.0}, {{40, 80}, 7.5}, {{-30, 50}, 2.0}, {{30, 30}, 9.0}});
    constexpr double h = 0.01;
    for (const Vec2& p : {Vec2(10, 12), Vec2(55, -20), Vec2(-70, 33), Vec2(61, 62)}) {
        const Vec2 slope = plate.slope(p);
        for (int i = 0; i < 2; ++i) {
            const Vec2 step = h * Vec2::Unit(i);
            EXPECT_NEAR(slope[i], (plate.at(p + step) - plate.at(p - step)) / (2.0 * h), 1e-6);
        }
    }
}

TEST(PlateInverse, AnswersForEveryHeightAtOnce) {
    // What it is for: the first rows by the heights are the plate's weights; each row of the
    // weights sums to nothing, as a plate's do. A height raised by 1 at one point leaves that point
    // pulling up: its own weight is positive or none.
    std::mt19937 random(8);
    const auto points = strewn(random, 9, 0.0);
    const Eigen::MatrixXd inverse = plate_inverse(points);
    ASSERT_EQ(inverse.rows(), 12);
    ASSERT_EQ(inverse.cols(), 12);
    EXPECT_LT((inverse - inverse.transpose()).norm(), 1e-8 * inverse.norm());
    const Eigen::MatrixXd weights = inverse.topLeftCorner(9, 9);
    EXPECT_LT(weights.rowwise().sum().norm(), 1e-8 * weights.norm());
    for (int i = 0; i < 9; ++i) EXPECT_GE(weights(i, i), 0.0);
    // Heights of a plane need no weight at all.
    Eigen::VectorXd plane(9);
    for (int i = 0; i < 9; ++i) {
        const Vec2& p = points[static_cast<std::size_t>(i)].at;
        plane[i] = 3.0 + 0.2 * p.x() - 0.1 * p.y();
    }
    EXPECT_LT((weights * plane).norm(), 1e-7 * weights.norm() * plane.norm());
}

}  // namespace
}  // namespace tearline::dish
