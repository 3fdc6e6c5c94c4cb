#include "core/surface/closed_spline.h"

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>
#include <utility>

namespace tearline::surface {

ClosedSpline::ClosedSpline(std::vector<Vec3> points) : points_(std::move(points)) {
    const int n = static_cast<int>(points_.size());
    chord_.resize(n);
    for (int i = 0; i < n; ++i) chord_[i] = (points_[(i + 1) % n] - points_[i]).norm();

    // Equal slopes on both sides of each point: a symmetric, diagonally dominant cyclic system for
    // the second derivatives.
    std::vector<Eigen::Triplet<double>> entries;
    Eigen::MatrixX3d right(n, 3);
    for (int i = 0; i < n; ++i) {
        const int before = (i + n - 1) % n, after = (i + 1) % n;
        entries.emplace_back(i, before, chord_[before]);
        entries.emplace_back(i, i, 2.0 * (chord_[before] + chord_[i]));
        entries.emplace_back(i, after, chord_[i]);
        right.row(i) = 6.0 * ((points_[after] - points_[i]) / chord_[i] -
                              (points_[i] - points_[before]) / chord_[before]);
    }
    Eigen::SparseMatrix<double> system(n, n);
    system.setFromTriplets(entries.begin(), entries.end());
    const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(system);
    const Eigen::MatrixX3d solved = factor.solve(right);
    second_.resize(n);
    for (int i = 0; i < n; ++i) second_[i] = solved.row(i);
}

Vec3 ClosedSpline::at(std::size_t segment, double part) const {
    const std::size_t next = (segment + 1) % points_.size();
    const double h = chord_[segment];
    const double b = part, a = 1.0 - part;
    return a * points_[segment] + b * points_[next] +
           (h * h / 6.0) * ((a * a * a - a) * second_[segment] + (b * b * b - b) * second_[next]);
}

}  // namespace tearline::surface
