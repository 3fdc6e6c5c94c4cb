#include "core/surface/open_spline.h"

#include <utility>

namespace tearline::surface {

namespace {

std::vector<double> chords(const std::vector<Vec3>& points) {
    std::vector<double> out;
    for (std::size_t i = 0; i + 1 < points.size(); ++i)
        out.push_back((points[i + 1] - points[i]).norm());
    return out;
}

}  // namespace

OpenSpline::OpenSpline(std::vector<Vec3> points) : OpenSpline(points, chords(points)) {}

OpenSpline::OpenSpline(std::vector<Vec3> points, std::vector<double> steps)
    : points_(std::move(points)), chord_(std::move(steps)) {
    const std::size_t n = points_.size();
    second_.assign(n, Vec3::Zero());
    // Equal slopes on both sides of each inner point: a tridiagonal, diagonally dominant system.
    std::vector<double> diagonal(n, 1.0);
    for (std::size_t i = 1; i + 1 < n; ++i) {
        diagonal[i] = 2.0 * (chord_[i - 1] + chord_[i]);
        second_[i] = 6.0 * ((points_[i + 1] - points_[i]) / chord_[i] -
                            (points_[i] - points_[i - 1]) / chord_[i - 1]);
        if (i == 1) continue;
        const double part = chord_[i - 1] / diagonal[i - 1];
        diagonal[i] -= part * chord_[i - 1];
        second_[i] -= part * second_[i - 1];
    }
    for (std::size_t i = n - 1; i-- > 1;)
        second_[i] = (second_[i] - (i + 2 < n ? chord_[i] : 0.0) * second_[i + 1]) / diagonal[i];
}

Vec3 OpenSpline::at(std::size_t segment, double part) const {
    const double h = chord_[segment];
    const double b = part, a = 1.0 - part;
    return a * points_[segment] + b * points_[segment + 1] +
           (h * h / 6.0) *
               ((a * a * a - a) * second_[segment] + (b * b * b - b) * second_[segment + 1]);
}

Vec3 OpenSpline::slope(std::size_t segment, double part) const {
    const double h = chord_[segment];
    const double b = part, a = 1.0 - part;
    return (points_[segment + 1] - points_[segment]) / h +
           (h / 6.0) * ((1.0 - 3.0 * a * a) * second_[segment] +
                        (3.0 * b * b - 1.0) * second_[segment + 1]);
}

Vec3 OpenSpline::bend(std::size_t segment, double part) const {
    return (1.0 - part) * second_[segment] + part * second_[segment + 1];
}

}  // namespace tearline::surface
