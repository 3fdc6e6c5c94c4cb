#include "core/ground/untold_end.h"

#include <algorithm>

#include "core/ground/tolerances.h"
#include "core/patch/told_end.h"
#include "core/plane/nearest_on_line.h"

namespace tearline::ground {

std::optional<Vec3> untold_end(const job::Job& job, const surface::Patch& patch,
                               const std::vector<Region2>& regions) {
    if (!job.hull.by_hand() && !job.hull.scan) return std::nullopt;
    std::optional<patch::ToldEnd> told;
    if (!job.damage.end.empty()) told.emplace(job.damage.end);
    const auto reaches = [&](const Vec2& place) {
        return std::any_of(regions.begin(), regions.end(), [&](const Region2& region) {
            return plane::distance_to_loop(region.outer, place) < tolerance::edge_on_end;
        });
    };
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            if (patch.neighbour[t][i] >= 0 || !patch.hull_end[t][i]) continue;
            const auto& v = patch.mesh.triangle[t];
            const int j = (i + 1) % 3;
            const Vec3 place = 0.5 * (patch.mesh.position[v[i]] + patch.mesh.position[v[j]]);
            if (told && told->holds(place, patch.mesh.corner_normal[t][i])) continue;
            if (reaches(0.5 * (patch.chart[v[i]] + patch.chart[v[j]]))) return place;
        }
    return std::nullopt;
}

}  // namespace tearline::ground
