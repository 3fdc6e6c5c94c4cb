#include "core/dish/thin_plate.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/dish/tolerances.h"

namespace tearline::dish {
namespace {

/// r^2 ln r by the square of r.
double plate(double square) {
    return square > 0.0 ? 0.5 * square * std::log(square) : 0.0;
}

Eigen::MatrixXd system_of(const std::vector<Vec2>& centres) {
    const auto n = static_cast<Eigen::Index>(centres.size());
    Eigen::MatrixXd system = Eigen::MatrixXd::Zero(n + 3, n + 3);
    for (Eigen::Index i = 0; i < n; ++i) {
        const Vec2& a = centres[static_cast<std::size_t>(i)];
        for (Eigen::Index j = 0; j < i; ++j)
            system(i, j) = system(j, i) =
                plate((a - centres[static_cast<std::size_t>(j)]).squaredNorm());
        system.row(i).tail(3) << 1.0, a.x(), a.y();
        system.col(i).tail(3) << 1.0, a.x(), a.y();
    }
    return system;
}

/// Points about their middle, none farther from it than 1.
struct Scaled {
    Vec2 origin{0, 0};
    double scale = 1.0;
    std::vector<Vec2> centres;

    explicit Scaled(const std::vector<PlatePoint>& points) {
        for (const PlatePoint& p : points) origin += p.at / static_cast<double>(points.size());
        for (const PlatePoint& p : points) scale = std::max(scale, (p.at - origin).norm());
        for (const PlatePoint& p : points) centres.emplace_back((p.at - origin) / scale);
    }
};

}  // namespace

ThinPlate::ThinPlate(const std::vector<PlatePoint>& points) {
    const Scaled scaled(points);
    origin_ = scaled.origin;
    scale_ = scaled.scale;
    std::vector<std::size_t> met(points.size());
    std::iota(met.begin(), met.end(), std::size_t{0});
    // The first rounds let go and take hold; later ones only take hold, so that there is an end.
    constexpr int free_rounds = 20;
    for (int round = 0;; ++round) {
        solve(points, met);
        std::vector<std::size_t> next;
        for (std::size_t i = 0, k = 0; i < points.size(); ++i) {
            const bool held = k < met.size() && met[k] == i;
            const double force = held ? weight_[static_cast<Eigen::Index>(k++)] : 0.0;
            const bool hold = !points[i].at_least ||
                              (held ? force > 0.0 || round >= free_rounds
                                    : at(points[i].at) < points[i].height - tolerance::plate_below);
            if (hold) next.push_back(i);
        }
        if (next == met) return;
        met = std::move(next);
    }
}

void ThinPlate::solve(const std::vector<PlatePoint>& points, const std::vector<std::size_t>& met) {
    const auto n = static_cast<Eigen::Index>(met.size());
    centre_.clear();
    Eigen::VectorXd height = Eigen::VectorXd::Zero(n + 3);
    for (const std::size_t i : met) {
        height[static_cast<Eigen::Index>(centre_.size())] = points[i].height;
        centre_.emplace_back((points[i].at - origin_) / scale_);
    }
    weight_ = system_of(centre_).partialPivLu().solve(height);
}

double ThinPlate::at(const Vec2& p) const {
    const Vec2 q = (p - origin_) / scale_;
    const auto n = static_cast<Eigen::Index>(centre_.size());
    double sum = weight_[n] + weight_[n + 1] * q.x() + weight_[n + 2] * q.y();
    for (Eigen::Index i = 0; i < n; ++i)
        sum += weight_[i] * plate((q - centre_[static_cast<std::size_t>(i)]).squaredNorm());
    return sum;
}

Vec2 ThinPlate::slope(const Vec2& p) const {
    const Vec2 q = (p - origin_) / scale_;
    const auto n = static_cast<Eigen::Index>(centre_.size());
    Vec2 sum(weight_[n + 1], weight_[n + 2]);
    for (Eigen::Index i = 0; i < n; ++i) {
        const Vec2 r = q - centre_[static_cast<std::size_t>(i)];
        const double square = r.squaredNorm();
        if (square > 0.0) sum += weight_[i] * (std::log(square) + 1.0) * r;
    }
    return sum / scale_;
}

Eigen::MatrixXd plate_inverse(const std::vector<PlatePoint>& points) {
    return system_of(Scaled(points).centres).partialPivLu().inverse();
}

}  // namespace tearline::dish
