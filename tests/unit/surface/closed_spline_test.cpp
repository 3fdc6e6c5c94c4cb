#include "core/surface/closed_spline.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <array>
#include <cmath>
#include <numbers>

namespace tearline::surface {
namespace {

/// Points at uneven steps round a lopsided loop in space: chords from 20 to 170 mm.
std::vector<Vec3> uneven() {
    std::vector<Vec3> points;
    for (const double a : {0.0, 0.2, 0.45, 1.6, 2.0, 3.4, 3.6, 5.0})
        points.push_back({120.0 * std::cos(a) + 10.0 * std::cos(2 * a), 90.0 * std::sin(a),
                          0.001 * a * (6.28 - a) * 900.0});
    return points;
}

/// The periodic cubic spline by another route: four coefficients a segment, from value, first and
/// second derivative meeting at every point, as one dense system. The parameter is the chord.
class DenseSpline {
public:
    explicit DenseSpline(const std::vector<Vec3>& points) {
        const auto n = static_cast<Eigen::Index>(points.size());
        Eigen::MatrixXd system = Eigen::MatrixXd::Zero(4 * n, 4 * n);
        Eigen::MatrixX3d right = Eigen::MatrixX3d::Zero(4 * n, 3);
        for (Eigen::Index i = 0; i < n; ++i) {
            const Eigen::Index next = (i + 1) % n;
            const double h = (points[next] - points[i]).norm();
            chord_.push_back(h);
            const Eigen::Index row = 4 * i, here = 4 * i, there = 4 * next;
            system(row, here) = 1.0;
            right.row(row) = points[i];
            for (int k = 0; k < 4; ++k) system(row + 1, here + k) = std::pow(h, k);
            right.row(row + 1) = points[next];
            for (int k = 1; k < 4; ++k) system(row + 2, here + k) = k * std::pow(h, k - 1);
            system(row + 2, there + 1) -= 1.0;
            system(row + 3, here + 2) = 2.0;
            system(row + 3, here + 3) = 6.0 * h;
            system(row + 3, there + 2) -= 2.0;
        }
        coefficient_ = system.fullPivLu().solve(right);
    }
    [[nodiscard]] Vec3 at(std::size_t segment, double part) const {
        const double s = part * chord_[segment];
        const auto row = static_cast<Eigen::Index>(4 * segment);
        Vec3 sum = Vec3::Zero();
        for (int k = 0; k < 4; ++k) sum += std::pow(s, k) * coefficient_.row(row + k).transpose();
        return sum;
    }

private:
    std::vector<double> chord_;
    Eigen::MatrixX3d coefficient_;
};

TEST(ClosedSpline, IsThePeriodicCubicOfAnotherRoute) {
    const auto points = uneven();
    const ClosedSpline spline(points);
    const DenseSpline other(points);
    ASSERT_EQ(spline.segments(), points.size());
    for (std::size_t i = 0; i < points.size(); ++i)
        for (const double part : {0.0, 0.1, 0.37, 0.5, 0.8, 1.0})
            EXPECT_LT((spline.at(i, part) - other.at(i, part)).norm(), 1e-8) << i << " " << part;
}

TEST(ClosedSpline, RunsByTheChordAndNotByTheCount) {
    // Points of one circle at uneven steps: with chord-length parameters a cubic follows it closely
    // (closed form: the distance from the middle is the radius). By the count it swings by seven
    // millimetres where a long step follows a short one.
    constexpr double radius = 100.0;
    std::vector<Vec3> points;
    for (const double a : {0.0, 0.15, 0.9, 1.05, 1.8, 2.6, 2.75, 3.5, 4.3, 4.45, 5.2, 5.9})
        points.push_back({radius * std::cos(a), radius * std::sin(a), 0.0});
    const ClosedSpline spline(points);
    for (std::size_t i = 0; i < points.size(); ++i)
        for (int k = 0; k <= 20; ++k)
            EXPECT_NEAR(spline.at(i, k / 20.0).norm(), radius, 0.4) << i << " " << k;
}

}  // namespace
}  // namespace tearline::surface
