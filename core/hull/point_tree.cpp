#include "core/hull/point_tree.h"

#include <algorithm>
#include <array>

namespace tearline::hull {
namespace {

constexpr std::size_t most_in_leaf = 8;
constexpr std::size_t deepest = 64;  // halving: no count of points gets there

double squared_distance(const Vec3& p, const Vec3& a, const Vec3& d, double length_squared) {
    const double along =
        length_squared > 0.0 ? std::clamp((p - a).dot(d) / length_squared, 0.0, 1.0) : 0.0;
    return (p - a - along * d).squaredNorm();
}

}  // namespace

PointTree::PointTree(const std::vector<Vec3>& points, std::vector<std::int32_t> chosen)
    : numbers_(std::move(chosen)) {
    if (!numbers_.empty()) add(points, 0, numbers_.size());
    points_.reserve(numbers_.size());
    for (const std::int32_t i : numbers_) points_.push_back(points[static_cast<std::size_t>(i)]);
}

void PointTree::add(const std::vector<Vec3>& points, std::size_t first, std::size_t last) {
    const auto at = [&](std::int32_t i) -> const Vec3& {
        return points[static_cast<std::size_t>(i)];
    };
    const std::size_t node = nodes_.size();
    Vec3 low = at(numbers_[first]), high = low;
    for (std::size_t i = first; i < last; ++i) {
        low = low.cwiseMin(at(numbers_[i]));
        high = high.cwiseMax(at(numbers_[i]));
    }
    nodes_.push_back({low, high, first, last, 0});
    if (last - first <= most_in_leaf) return;
    int axis = 0;
    (high - low).maxCoeff(&axis);
    const std::size_t half = first + (last - first) / 2;
    const auto begin = numbers_.begin();
    std::nth_element(begin + static_cast<std::ptrdiff_t>(first),
                     begin + static_cast<std::ptrdiff_t>(half),
                     begin + static_cast<std::ptrdiff_t>(last),
                     [&](std::int32_t a, std::int32_t b) { return at(a)[axis] < at(b)[axis]; });
    add(points, first, half);
    nodes_[node].second_half = nodes_.size();
    add(points, half, last);
}

void PointTree::near_line(const Vec3& a, const Vec3& b, double reach,
                          std::vector<std::int32_t>& found) const {
    found.clear();
    if (nodes_.empty()) return;
    const Vec3 d = b - a;
    const double length_squared = d.squaredNorm();
    const Vec3 low = a.cwiseMin(b).array() - reach, high = a.cwiseMax(b).array() + reach;
    std::array<std::size_t, deepest> open{};
    std::size_t count = 1;
    while (count > 0) {
        const std::size_t number = open[--count];
        const Node& node = nodes_[number];
        if ((node.low.array() > high.array()).any() || (node.high.array() < low.array()).any())
            continue;
        // A long line lies aslant in its own box: most boxes in that lie far from the line.
        const double far = 0.5 * (node.high - node.low).norm() + reach;
        if (squared_distance(0.5 * (node.low + node.high), a, d, length_squared) > far * far)
            continue;
        if (node.second_half == 0) {
            for (std::size_t i = node.first; i < node.last; ++i)
                if (squared_distance(points_[i], a, d, length_squared) <= reach * reach)
                    found.push_back(numbers_[i]);
            continue;
        }
        open[count++] = node.second_half;
        open[count++] = number + 1;
    }
}

}  // namespace tearline::hull
