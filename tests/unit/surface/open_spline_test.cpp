#include "core/surface/open_spline.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>

namespace tearline::surface::open_spline_test {
namespace {

/// Points at uneven steps along a line that winds in space: chords from 8 to 120 mm.
std::vector<Vec3> uneven() {
    std::vector<Vec3> points;
    for (const double t : {0.0, 0.3, 0.4, 1.5, 2.1, 2.2, 3.4})
        points.push_back({90.0 * t, 60.0 * std::sin(1.3 * t), 25.0 * t * t - 10.0 * t});
    return points;
}

/// The natural cubic by another route: four coefficients a segment, from value, first and second
/// derivative meeting at every point and no bend at both ends, as one dense system.
class DenseSpline {
public:
    DenseSpline(const std::vector<Vec3>& points, const std::vector<double>& steps) {
        const auto n = static_cast<Eigen::Index>(steps.size());
        Eigen::MatrixXd system = Eigen::MatrixXd::Zero(4 * n, 4 * n);
        Eigen::MatrixX3d right = Eigen::MatrixX3d::Zero(4 * n, 3);
        Eigen::Index row = 0;
        for (Eigen::Index i = 0; i < n; ++i) {
            const double h = steps[static_cast<std::size_t>(i)];
            system(row, 4 * i) = 1.0;
            right.row(row++) = points[static_cast<std::size_t>(i)];
            for (int k = 0; k < 4; ++k) system(row, 4 * i + k) = std::pow(h, k);
            right.row(row++) = points[static_cast<std::size_t>(i) + 1];
            if (i + 1 == n) continue;
            for (int k = 1; k < 4; ++k) system(row, 4 * i + k) = k * std::pow(h, k - 1);
            system(row++, 4 * i + 5) = -1.0;
            system(row, 4 * i + 2) = 2.0;
            system(row, 4 * i + 3) = 6.0 * h;
            system(row++, 4 * i + 6) = -2.0;
        }
        system(row++, 2) = 2.0;
        system(row, 4 * n - 2) = 2.0;
        system(row, 4 * n - 1) = 6.0 * steps.back();
        coefficient_ = system.fullPivLu().solve(right);
    }
    /// The derivative of an order, `s` mm on from a point.
    [[nodiscard]] Vec3 at(std::size_t segment, double s, int order = 0) const {
        Vec3 sum = Vec3::Zero();
        for (int k = order; k < 4; ++k) {
            double factor = std::pow(s, k - order);
            for (int j = 0; j < order; ++j) factor *= k - j;
            sum +=
                factor * coefficient_.row(static_cast<Eigen::Index>(4 * segment) + k).transpose();
        }
        return sum;
    }

private:
    Eigen::MatrixX3d coefficient_;
};

std::vector<double> chords(const std::vector<Vec3>& points) {
    std::vector<double> out;
    for (std::size_t i = 0; i + 1 < points.size(); ++i)
        out.push_back((points[i + 1] - points[i]).norm());
    return out;
}

void expect_same(const OpenSpline& spline, const DenseSpline& dense) {
    for (std::size_t i = 0; i < spline.segments(); ++i)
        for (const double part : {0.0, 0.2, 0.5, 0.9, 1.0}) {
            const double s = part * spline.step(i);
            EXPECT_LT((spline.at(i, part) - dense.at(i, s)).norm(), 1e-9) << i << " " << part;
            EXPECT_LT((spline.slope(i, part) - dense.at(i, s, 1)).norm(), 1e-9) << i;
            EXPECT_LT((spline.bend(i, part) - dense.at(i, s, 2)).norm(), 1e-9) << i;
        }
}

TEST(OpenSpline, IsTheNaturalCubicOfAnotherRoute) {
    const auto points = uneven();
    const OpenSpline spline(points);
    ASSERT_EQ(spline.segments(), points.size() - 1);
    expect_same(spline, DenseSpline(points, chords(points)));
    EXPECT_LT(spline.bend(0, 0.0).norm(), 1e-15);
    EXPECT_LT(spline.bend(points.size() - 2, 1.0).norm(), 1e-15);
}

TEST(OpenSpline, TakesAnotherLinesParameter) {
    // What changes along a line, such as its normals, is a spline of that line's own steps.
    const auto points = uneven();
    const std::vector<double> steps{10, 4, 33, 21, 5, 17};
    const OpenSpline spline(points, steps);
    EXPECT_EQ(spline.step(2), 33.0);
    expect_same(spline, DenseSpline(points, steps));
}

TEST(OpenSpline, OfTwoOrThreePointsIsWorkedByHand) {
    const OpenSpline two({{0, 0, 0}, {30, 40, 0}});
    EXPECT_LT((two.at(0, 0.3) - Vec3(9, 12, 0)).norm(), 1e-12);
    EXPECT_LT((two.slope(0, 0.7) - Vec3(0.6, 0.8, 0)).norm(), 1e-12);
    // Steps of 1 and 1 through 0, 1, 0: its bend in the middle is -3, its slope there none, and
    // 3/2 at its start.
    const OpenSpline three({{0, 0, 0}, {0, 1, 0}, {0, 0, 0}}, {1.0, 1.0});
    EXPECT_NEAR(three.bend(0, 1.0).y(), -3.0, 1e-12);
    EXPECT_NEAR(three.slope(0, 1.0).y(), 0.0, 1e-12);
    EXPECT_NEAR(three.slope(0, 0.0).y(), 1.5, 1e-12);
    EXPECT_NEAR(three.at(0, 0.5).y(), 11.0 / 16.0, 1e-12);
}

TEST(OpenSpline, ComesNearACircleByTheFourthPowerOfItsSteps) {
    // Inside, away from its ends where it does not bend: 40 steps over 2 rad of 500 mm are 25 mm;
    // a natural end's fault falls by 3.7 a step.
    const auto off = [](int steps) {
        std::vector<Vec3> points;
        for (int i = 0; i <= steps; ++i) {
            const double a = 2.0 * i / steps;
            points.push_back(500.0 * Vec3(std::cos(a), std::sin(a), 0));
        }
        const OpenSpline spline(points);
        double most = 0.0;
        for (int i = 3 * steps / 8; i < 5 * steps / 8; ++i)
            for (const double part : {0.25, 0.5, 0.75})
                most = std::max(
                    most, std::abs(spline.at(static_cast<std::size_t>(i), part).norm() - 500.0));
        return most;
    };
    EXPECT_LT(off(40), 1e-4);
    EXPECT_NEAR(off(40) / off(80), 16.0, 1.0);
}

TEST(OpenSpline, IsTheSameLineBackwardsAndMovedAbout) {
    const auto points = uneven();
    const OpenSpline spline(points);
    const Eigen::Isometry3d move =
        Eigen::Translation3d(30, -400, 8) * Eigen::AngleAxisd(0.8, Vec3(1, 2, -1).normalized());
    std::vector<Vec3> other;
    for (auto p = points.rbegin(); p != points.rend(); ++p) other.push_back(move * *p);
    const OpenSpline back(other);
    for (std::size_t i = 0; i < spline.segments(); ++i)
        for (const double part : {0.1, 0.6})
            EXPECT_LT(
                (back.at(spline.segments() - 1 - i, 1.0 - part) - move * spline.at(i, part)).norm(),
                1e-9)
                << i;
}

}  // namespace
}  // namespace tearline::surface::open_spline_test
