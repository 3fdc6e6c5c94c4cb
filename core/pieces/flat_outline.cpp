#include "core/pieces/flat_outline.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace tearline::pieces {

Region2 flat_outline(const surface::SurfaceMesh& mesh, std::span<const Vec2> flat) {
    Region2 region;
    for (const auto& loop : surface::boundary_loops(mesh)) {
        Loop2 points;
        points.reserve(loop.size());
        for (const std::int32_t v : loop) points.push_back(flat[static_cast<std::size_t>(v)]);
        region.holes.push_back(std::move(points));
    }
    const auto outer = std::max_element(
        region.holes.begin(), region.holes.end(), [](const Loop2& a, const Loop2& b) {
            return std::abs(signed_area(a)) < std::abs(signed_area(b));
        });
    if (outer == region.holes.end()) return region;
    region.outer = std::move(*outer);
    region.holes.erase(outer);
    return region;
}

}  // namespace tearline::pieces
