#include "core/surface/winding.h"

#include <algorithm>

#include "core/surface/locate_near.h"

namespace tearline::surface {

Winding::Winding(std::vector<std::int32_t> source, std::vector<int> turn)
    : source_(std::move(source)), turn_(std::move(turn)) {
    for (std::size_t t = 0; t < source_.size(); ++t)
        triangle_[{source_[t], turn_[t]}] = static_cast<std::int32_t>(t);
}

std::optional<Vec2> Winding::turned(const Patch& patch, const Vec2& chart_point, int turns) const {
    const Location at = locate_near(patch, chart_point).at;
    const std::size_t t = at.triangle.index();
    const auto there = triangle_.find({source_[t], turn_[t] + turns});
    if (there == triangle_.end()) return std::nullopt;
    return patch.chart_point({TriangleId(there->second), at.weights});
}

std::vector<bool> Winding::first_copies() const {
    std::vector<bool> first;
    for (std::size_t t = 0; t < source_.size(); ++t)
        first.push_back(!triangle_.contains({source_[t], turn_[t] - 1}));
    return first;
}

std::vector<std::pair<std::int32_t, std::int32_t>> Winding::pairs(const Patch& patch) const {
    std::vector<std::pair<std::int32_t, std::int32_t>> out;
    for (std::size_t t = 0; t < source_.size(); ++t) {
        const auto there = triangle_.find({source_[t], turn_[t] + 1});
        if (there == triangle_.end()) continue;
        for (std::size_t i = 0; i < 3; ++i)
            out.emplace_back(patch.mesh.triangle[t][i],
                             patch.mesh.triangle[static_cast<std::size_t>(there->second)][i]);
    }
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

}  // namespace tearline::surface
