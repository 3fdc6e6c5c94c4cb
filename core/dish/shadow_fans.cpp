#include "core/dish/shadow_fans.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <queue>
#include <unordered_map>

#include "core/dish/offset_distance.h"
#include "core/dish/ray_fan.h"
#include "core/dish/tolerances.h"

namespace tearline::dish {
namespace {

constexpr double nowhere = std::numeric_limits<double>::infinity();
/// A shadow behind a shadow behind a shadow: more turns than a hull's openings ask for.
constexpr int most_rounds = 4;

/// A vertex of the rim with its neighbours along it, the surface on the left.
struct RimVertex {
    std::int32_t vertex = -1;
    std::int32_t next = -1, before = -1;  ///< indices of rim vertices
    double to_next = 0.0;                 ///< [mm]
    double distance = nowhere;            ///< [mm] outside the outline
    std::int32_t from = -1;               ///< the neighbour it was reached by
    double fan_at = nowhere;              ///< [mm] distance of the fan it has
};

std::vector<RimVertex> rim_of(const surface::Patch& patch) {
    std::vector<RimVertex> rim;
    std::unordered_map<std::int32_t, std::int32_t> place;
    const auto index = [&](std::int32_t v) {
        const auto [found, fresh] = place.try_emplace(v, static_cast<std::int32_t>(rim.size()));
        if (fresh) rim.push_back({v});
        return found->second;
    };
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            if (patch.neighbour[t][i] >= 0) continue;
            const std::int32_t a = index(patch.mesh.triangle[t][i]);
            const std::int32_t b = index(patch.mesh.triangle[t][(i + 1) % 3]);
            rim[a].next = b;
            rim[a].to_next = patch.mesh.edge_length[t][i];
            rim[b].before = a;
        }
    return rim;
}

/// Distances at the rim: by rays where they come, along the rim elsewhere.
void measure(const surface::Patch& patch, const OffsetSweep& sweep, std::vector<RimVertex>& rim) {
    const OffsetDistance distance(sweep);
    using Entry = std::pair<double, std::int32_t>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    for (std::size_t i = 0; i < rim.size(); ++i) {
        rim[i].from = -1;
        rim[i].distance = distance.reached(patch.chart[rim[i].vertex]).value_or(nowhere);
        if (rim[i].distance < nowhere) queue.emplace(rim[i].distance, static_cast<std::int32_t>(i));
    }
    while (!queue.empty()) {
        const auto [d, i] = queue.top();
        queue.pop();
        if (d > rim[i].distance) continue;
        const auto relax = [&, d = d, i = i](std::int32_t other, double length) {
            if (other < 0 || !(d + length < rim[other].distance - tolerance::shadow_gain)) return;
            rim[other].distance = d + length;
            rim[other].from = i;
            queue.emplace(d + length, other);
        };
        relax(rim[i].next, rim[i].to_next);
        if (rim[i].before >= 0) relax(rim[i].before, rim[rim[i].before].to_next);
    }
}

/// Directions at a rim vertex, by the angle [rad] from the edge to the next one.
struct Sector {
    double from, to;
};

/// Where a geodesic that bends round the vertex can go: between straight on and along the rim.
Sector useful_sector(const std::vector<RimVertex>& rim, const RimVertex& at, double whole) {
    const double hair = tolerance::fan_rim;
    Sector sector{hair, whole - hair};
    const RimVertex* from = at.from >= 0 ? &rim[at.from] : nullptr;
    if (from == &rim[at.before])
        sector.to = std::min(sector.to, whole - std::numbers::pi + tolerance::fan_overlap);
    else if (from == &rim[at.next])
        sector.from = std::max(sector.from, std::numbers::pi - tolerance::fan_overlap);
    return sector;
}

Front fan_at(const surface::Patch& patch, const SweepOptions& options, const OffsetSweep& sweep,
             const std::vector<RimVertex>& rim, const RimVertex& at) {
    Front fan;
    fan.closed = false;
    fan.start = at.distance;
    fan.source = patch.chart[at.vertex];
    const Vec2 first = patch.chart[rim[at.next].vertex] - fan.source;
    const Vec2 last = patch.chart[rim[at.before].vertex] - fan.source;
    double sweep_angle = std::atan2(cross2(first, last), first.dot(last));
    if (sweep_angle <= 0.0) sweep_angle += 2 * std::numbers::pi;
    // Only where the rim turns away can a geodesic bend round it.
    if (sweep_angle < std::numbers::pi) return fan;
    const double start_angle = std::atan2(first.y(), first.x());
    const Sector sector = useful_sector(rim, at, sweep_angle);
    const auto shoot = [&](double part) {
        const double angle = start_angle + sector.from + part * (sector.to - sector.from);
        RayStart start =
            start_towards(patch, fan.source, {std::cos(angle), std::sin(angle)}, at.vertex);
        start.distance = at.distance;
        return sweep_ray(patch, start, sweep.stations);
    };
    const RayFiller filler(patch, sweep.stations, options);
    const int parts = std::max(1, static_cast<int>(std::ceil((sector.to - sector.from) / 0.2)));
    SweptRay ray = shoot(0.0);
    for (int i = 0; i < parts; ++i) {
        const SweptRay next = shoot(static_cast<double>(i + 1) / parts);
        fan.rays.push_back(ray);
        filler.fill([&](double part) { return shoot((i + part) / parts); },
                    (sector.to - sector.from) / parts * tolerance::turn_arm, ray, next, fan.rays);
        ray = next;
    }
    fan.rays.push_back(ray);
    return fan;
}

}  // namespace

void add_shadow_fans(const surface::Patch& patch, const SweepOptions& options, OffsetSweep& sweep) {
    const auto& rays = sweep.fronts.front().rays;
    if (std::none_of(rays.begin(), rays.end(), [](const auto& ray) { return ray.came_back; }))
        return;
    std::vector<RimVertex> rim = rim_of(patch);
    for (int round = 0; round < most_rounds; ++round) {
        measure(patch, sweep, rim);
        std::vector<Front> fans;
        for (RimVertex& v : rim) {
            const bool hands_on =
                (v.next >= 0 && rim[v.next].from >= 0 && &rim[rim[v.next].from] == &v) ||
                (v.before >= 0 && rim[v.before].from >= 0 && &rim[rim[v.before].from] == &v);
            if (!hands_on || v.next < 0 || v.before < 0) continue;
            if (!(v.distance < sweep.stations.back())) continue;
            if (!(v.distance < v.fan_at - tolerance::shadow_gain)) continue;
            v.fan_at = v.distance;
            Front fan = fan_at(patch, options, sweep, rim, v);
            if (!fan.rays.empty()) fans.push_back(std::move(fan));
        }
        if (fans.empty()) return;
        for (Front& fan : fans) sweep.fronts.push_back(std::move(fan));
    }
}

}  // namespace tearline::dish
