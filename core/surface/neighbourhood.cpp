#include "core/surface/neighbourhood.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "core/surface/patch_index.h"

namespace tearline::surface {

Neighbourhood::Neighbourhood(const std::vector<Vec3>& seeds, double reach) : rim_(seeds) {
    for (const Vec3& p : rim_) middle_ += p;
    middle_ /= static_cast<double>(rim_.size());
    double radius = 0.0;
    for (const Vec3& p : rim_) radius = std::max(radius, (p - middle_).norm());
    // Over a damage of width 2 r the surface bulges off the fan by at most r, usually far less.
    constexpr double bulge = 0.3;
    reach_ = reach + bulge * radius;
}

double Neighbourhood::distance(const Vec3& point) const {
    if (rim_.size() < 3) {
        double best = std::numeric_limits<double>::infinity();
        for (const Vec3& p : rim_) best = std::min(best, (p - point).norm());
        return best;
    }
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < rim_.size(); ++i) {
        const std::array<Vec3, 3> corner{middle_, rim_[i], rim_[(i + 1) % rim_.size()]};
        const Vec3 w = nearest_weights(corner, point);
        best = std::min(best,
                        (w[0] * corner[0] + w[1] * corner[1] + w[2] * corner[2] - point).norm());
    }
    return best;
}

std::vector<Vec3> Neighbourhood::samples(double spacing) const {
    if (rim_.size() < 3) return rim_;
    std::vector<Vec3> points;
    for (std::size_t i = 0; i < rim_.size(); ++i) {
        const Vec3& a = rim_[i];
        const Vec3& b = rim_[(i + 1) % rim_.size()];
        const double longest =
            std::max({(a - middle_).norm(), (b - middle_).norm(), (b - a).norm()});
        const int n = std::max(1, static_cast<int>(std::ceil(longest / spacing)));
        for (int u = 0; u <= n; ++u)
            for (int v = 0; u + v <= n; ++v)
                points.push_back(middle_ + (a - middle_) * (static_cast<double>(u) / n) +
                                 (b - middle_) * (static_cast<double>(v) / n));
    }
    return points;
}

}  // namespace tearline::surface
