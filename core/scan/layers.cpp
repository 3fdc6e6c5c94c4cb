#include "core/scan/layers.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <unordered_map>
#include <vector>

#include "core/scan/robust.h"

namespace tearline::scan {

namespace {

/// The widest gap between two groups of heights, a quarter of them at least in either.
double gap_in(std::vector<double>& heights) {
    std::sort(heights.begin(), heights.end());
    const std::size_t quarter = (heights.size() + 3) / 4;
    double widest = 0.0;
    for (std::size_t i = quarter; i + quarter <= heights.size(); ++i)
        widest = std::max(widest, heights[i] - heights[i - 1]);
    return widest;
}

}  // namespace

std::optional<Layers> layers_of(std::span<const Residual> heights, double spacing,
                                double least_gap) {
    constexpr double spacings = 5.0;
    constexpr std::size_t fewest_points = 8, fewest_squares = 10;
    std::unordered_map<std::int64_t, std::vector<double>> of_square;
    for (const Residual& height : heights) {
        const Vec2 at = height.uv / (spacings * spacing);
        of_square[static_cast<std::int64_t>(std::floor(at.x())) * 1'000'003 +
                  static_cast<std::int64_t>(std::floor(at.y()))]
            .push_back(height.off);
    }
    std::size_t squares = 0;
    std::vector<double> gaps;
    for (auto& [key, off] : of_square) {
        if (off.size() < fewest_points) continue;
        ++squares;
        const double gap = gap_in(off);
        if (gap > least_gap) gaps.push_back(gap);
    }
    if (squares < fewest_squares || gaps.empty()) return std::nullopt;
    return Layers{median(gaps), static_cast<double>(gaps.size()) / static_cast<double>(squares)};
}

}  // namespace tearline::scan
