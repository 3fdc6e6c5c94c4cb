#include "core/plies/centreline_cut.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <numbers>
#include <unordered_map>

#include "core/base/angle_between.h"
#include "core/base/tolerances.h"
#include "core/patch/tolerances.h"
#include "core/plies/tolerances.h"

namespace tearline::plies {
namespace {

/// Stretches of the hull's end between corners, as vertex chains.
std::vector<std::vector<std::int32_t>> end_stretches(const surface::Patch& patch) {
    std::unordered_map<std::int32_t, std::int32_t> next, before;
    std::vector<std::int32_t> order;
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            if (patch.neighbour[t][i] >= 0 || !patch.hull_end[t][i]) continue;
            const std::int32_t a = patch.mesh.triangle[t][i];
            const std::int32_t b = patch.mesh.triangle[t][(i + 1) % 3];
            next[a] = b;
            before[b] = a;
            order.push_back(a);
        }
    const auto& p = patch.mesh.position;
    const auto turns_at = [&](std::int32_t v) {
        const auto in = before.find(v), out = next.find(v);
        if (in == before.end() || out == next.end()) return true;
        const Vec3 u = p[v] - p[in->second], w = p[out->second] - p[v];
        return angle_between(u, w) > tolerance::rim_corner_degrees * std::numbers::pi / 180.0;
    };
    std::vector<std::vector<std::int32_t>> stretches;
    const auto follow = [&](std::int32_t start) {
        std::vector<std::int32_t> chain{start};
        for (std::int32_t v = start; next.contains(v);) {
            const std::int32_t to = next[v];
            next.erase(v);
            chain.push_back(to);
            v = to;
            if (turns_at(v)) break;
        }
        if (chain.size() > 1) stretches.push_back(std::move(chain));
    };
    std::vector<std::int32_t> starts;
    for (const std::int32_t v : order)
        if (turns_at(v)) starts.push_back(v);
    for (const std::int32_t v : starts) follow(v);
    for (const std::int32_t v : order)
        if (next.contains(v)) follow(v);
    return stretches;
}

/// Whether the region's edge runs along the chain somewhere; the middle of the run.
std::optional<Vec2> touches(const NetRegion& region, const std::vector<Vec2>& chain) {
    for (const Region2& part : region.chart)
        for (std::size_t k = 0; k + 1 < chain.size(); ++k) {
            const Vec2 middle = 0.5 * (chain[k] + chain[k + 1]);
            const Vec2 inward = turned_left(chain[k + 1] - chain[k]).normalized();
            if (contains(part, middle + tolerance::rim_inset * inward)) return middle;
        }
    return std::nullopt;
}

}  // namespace

std::optional<CentrelineCut> centreline_cut(const surface::Patch& patch, const NetRegion& region,
                                            const Vec3& bow, const Vec3& up) {
    if (!region.cut_at_hull_end) return std::nullopt;
    const Vec3 across = bow.cross(up).normalized();
    for (const auto& stretch : end_stretches(patch)) {
        double low = across.dot(patch.mesh.position[stretch.front()]), high = low;
        std::vector<Vec2> chain;
        for (const std::int32_t v : stretch) {
            const double side = across.dot(patch.mesh.position[v]);
            low = std::min(low, side);
            high = std::max(high, side);
            chain.push_back(patch.chart[v]);
        }
        // Within the tolerance of one plane: the middle one.
        if (!(high - low <= 2.0 * tolerance::centreline)) continue;
        if (const auto at = touches(region, chain)) {
            const auto near = patch.locate(*at);
            return CentrelineCut{near ? patch.sample(*near).position
                                      : patch.mesh.position[stretch[stretch.size() / 2]]};
        }
    }
    return std::nullopt;
}

}  // namespace tearline::plies
