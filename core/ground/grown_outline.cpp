#include "core/ground/grown_outline.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "core/base/outline.h"
#include "core/base/tolerances.h"
#include "core/damage/damage_outline.h"
#include "core/patch/build_patch.h"
#include "core/plies/net_region.h"

namespace tearline::ground {

namespace {

/// Points of a closed line, evenly along it: near enough that a smooth curve follows it.
std::vector<Vec3> evenly(const Loop3& loop) {
    constexpr double spacing = 8.0;  // [mm]
    constexpr double fewest = 48.0;
    const double round = perimeter(loop);
    const auto count = static_cast<std::size_t>(std::max(fewest, std::ceil(round / spacing)));
    std::vector<Vec3> points;
    double gone = 0.0;
    for (std::size_t i = 0; i < loop.size() && points.size() < count; ++i) {
        const Vec3 &a = loop[i], &b = loop[(i + 1) % loop.size()];
        const double edge = (b - a).norm();
        while (points.size() < count) {
            const double next =
                round * static_cast<double>(points.size()) / static_cast<double>(count);
            if (next > gone + edge) break;
            points.push_back(edge > 0.0 ? Vec3(a + (b - a) * ((next - gone) / edge)) : a);
        }
        gone += edge;
    }
    return points;
}

}  // namespace

Result<std::vector<Vec3>> grown_outline(const job::Job& job, const hull::Hull& hull, double by) {
    patch::PatchRequest request = patch::patch_request(job, by + 2.0 * tolerance::patch_margin);
    request.model_surface = hull.surface;
    const auto patch = patch::build_patch(hull, request);
    if (!patch) return tl::unexpected(patch.error());
    const auto outline = damage::damage_outline(*patch, job.damage, job.hull.bow, job.hull.up);
    if (!outline) return tl::unexpected(outline.error());
    Loop3 loop;
    if (by > 0.0) {
        const std::array<double, 1> offsets{by};
        const auto regions = plies::net_regions(*patch, *outline, offsets);
        if (!regions) return tl::unexpected(regions.error());
        const auto& parts = regions->front().on_base;
        const auto largest =
            std::max_element(parts.begin(), parts.end(), [](const Region3& a, const Region3& b) {
                return perimeter(a.outer) < perimeter(b.outer);
            });
        loop = largest->outer;
    } else {
        for (const damage::OutlinePoint& point : outline->points) loop.push_back(point.position);
    }
    return evenly(loop);
}

job::Damage carried_to(const job::Damage& damage, std::vector<Vec3> points, double apart) {
    job::Damage out = damage;
    out.outline = std::move(points);
    out.join = job::Join::smooth;
    out.centre.reset();
    out.radius.reset();
    out.length.reset();
    out.height.reset();
    out.carried = apart;
    return out;
}

}  // namespace tearline::ground
