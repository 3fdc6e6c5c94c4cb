#include "core/scan/layers.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <unordered_map>
#include <vector>

#include "core/scan/robust.h"

namespace tearline::scan {

namespace {

using Group = std::span<const LayerPoint>;

/// Where points by height are parted by the widest gap, a quarter of them at least to either side.
struct Parted {
    Group low, high;
    double gap = 0.0;  ///< [mm]
};

Parted parted(std::vector<LayerPoint>& points) {
    std::sort(points.begin(), points.end(),
              [](const LayerPoint& a, const LayerPoint& b) { return a.off < b.off; });
    const std::size_t quarter = (points.size() + 3) / 4;
    Parted widest;
    for (std::size_t i = quarter; i + quarter <= points.size(); ++i) {
        const double gap = points[i].off - points[i - 1].off;
        if (gap > widest.gap) widest = {Group(points).first(i), Group(points).subspan(i), gap};
    }
    return widest;
}

Vec3 middle_of(Group group) {
    Vec3 sum(0, 0, 0);
    for (const LayerPoint& point : group) sum += point.at / static_cast<double>(group.size());
    return sum;
}

/// How far a place lies from the plane through a group [mm].
double from_plane(Group group, const Vec3& place) {
    const Vec3 middle = middle_of(group);
    Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
    for (const LayerPoint& point : group)
        scatter += (point.at - middle) * (point.at - middle).transpose();
    const Vec3 normal =
        Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(scatter).eigenvectors().col(0);
    return std::abs((place - middle).dot(normal));
}

/// Across both layers: what one of them bends by beside the other's plane, the other bends back.
double across(const Parted& layers) {
    return 0.5 * (from_plane(layers.low, middle_of(layers.high)) +
                  from_plane(layers.high, middle_of(layers.low)));
}

}  // namespace

std::optional<Layers> layers_of(std::span<const LayerPoint> points, double spacing,
                                double least_gap) {
    constexpr double spacings = 5.0;
    constexpr std::size_t fewest_points = 8, fewest_squares = 10, fewest_in_plane = 6;
    std::unordered_map<std::int64_t, std::vector<LayerPoint>> of_square;
    for (const LayerPoint& point : points) {
        const Vec2 at = point.uv / (spacings * spacing);
        of_square[static_cast<std::int64_t>(std::floor(at.x())) * 1'000'003 +
                  static_cast<std::int64_t>(std::floor(at.y()))]
            .push_back(point);
    }
    std::size_t squares = 0, doubled = 0;
    std::vector<double> gaps, apart;
    for (auto& [key, all] : of_square) {
        if (all.size() < fewest_points) continue;
        ++squares;
        const Parted layers = parted(all);
        if (!(layers.gap > least_gap)) continue;
        ++doubled;
        gaps.push_back(layers.gap);
        if (std::min(layers.low.size(), layers.high.size()) >= fewest_in_plane)
            apart.push_back(across(layers));
    }
    if (squares < fewest_squares || doubled == 0) return std::nullopt;
    return Layers{median(apart.empty() ? gaps : apart),
                  static_cast<double>(doubled) / static_cast<double>(squares)};
}

}  // namespace tearline::scan
