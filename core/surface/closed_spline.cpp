#include "core/surface/closed_spline.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tearline::surface {

ClosedSpline::ClosedSpline(std::vector<Vec3> points) : point_(std::move(points)) {
    const std::size_t n = point_.size();
    if (n < 3) throw std::logic_error("ClosedSpline: fewer than three points");
    knot_.assign(n + 1, 0.0);
    std::vector<double> h(n);
    for (std::size_t i = 0; i < n; ++i) {
        h[i] = (point_[(i + 1) % n] - point_[i]).norm();
        if (!(h[i] > 0.0)) throw std::logic_error("ClosedSpline: a point is given twice");
        knot_[i + 1] = knot_[i] + h[i];
    }
    // Equal second derivatives on both sides of every point; few points, so a dense solve serves.
    const auto size = static_cast<Eigen::Index>(n);
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(size, size);
    Eigen::MatrixXd right(size, 3);
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t before = (i + n - 1) % n;
        const std::size_t after = (i + 1) % n;
        const double a = 1.0 / h[before];
        const double b = 1.0 / h[i];
        const auto row = static_cast<Eigen::Index>(i);
        matrix(row, static_cast<Eigen::Index>(before)) += a;
        matrix(row, row) += 2.0 * (a + b);
        matrix(row, static_cast<Eigen::Index>(after)) += b;
        right.row(row) =
            3.0 * (a * a * (point_[i] - point_[before]) + b * b * (point_[after] - point_[i]))
                      .transpose();
    }
    const Eigen::MatrixXd slopes = matrix.partialPivLu().solve(right);
    for (Eigen::Index i = 0; i < size; ++i) slope_.emplace_back(slopes.row(i).transpose());
}

ClosedSpline::Place ClosedSpline::place(double parameter) const {
    double p = std::fmod(parameter, length());
    if (p < 0.0) p += length();
    auto i =
        static_cast<std::size_t>(std::upper_bound(knot_.begin(), knot_.end(), p) - knot_.begin());
    i = std::min(i, point_.size()) - 1;
    const double h = knot_[i + 1] - knot_[i];
    return {i, (i + 1) % point_.size(), h, (p - knot_[i]) / h};
}

Vec3 ClosedSpline::at(double parameter) const {
    const auto [i, j, h, s] = place(parameter);
    const double r = 1.0 - s;
    return point_[i] * (r * r * (1.0 + 2.0 * s)) + point_[j] * (s * s * (3.0 - 2.0 * s)) +
           slope_[i] * (h * s * r * r) - slope_[j] * (h * s * s * r);
}

Vec3 ClosedSpline::derivative(double parameter) const {
    const auto [i, j, h, s] = place(parameter);
    const double r = 1.0 - s;
    return (point_[j] - point_[i]) * (6.0 * s * r / h) + slope_[i] * (r * (r - 2.0 * s)) +
           slope_[j] * (s * (s - 2.0 * r));
}

}  // namespace tearline::surface
