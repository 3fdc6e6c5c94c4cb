#include "core/dish/swept_ray.h"

#include <algorithm>
#include <limits>

#include "core/dish/tolerances.h"
#include "core/surface/locate_near.h"
#include "core/surface/trace_geodesic.h"

namespace tearline::dish {
namespace {

/// How far a straight line runs from `from` before it meets the loop again; infinity if never.
double run_to(const Loop2& loop, const Vec2& from, const Vec2& direction, double longest) {
    double nearest = longest;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const Vec2 u = loop[i] - loop[j];
        const Vec2 w = loop[j] - from;
        const double den = cross2(direction, u);
        if (den == 0.0) continue;
        const double along = cross2(w, u) / den;
        const double part = cross2(w, direction) / den;
        if (along > tolerance::rim_restart && along < nearest && part >= 0.0 && part <= 1.0)
            nearest = along;
    }
    return nearest;
}

void go_on_straight(SweptRay& ray, const surface::Patch& patch, const Vec2& direction,
                    std::span<const double> stations) {
    const double wanted = stations.back() - ray.on_patch;
    double run = run_to(patch.domain().outer, ray.rim, direction, wanted);
    for (const Loop2& hole : patch.domain().holes) run = run_to(hole, ray.rim, direction, run);
    ray.came_back = run < wanted;
    ray.reach = ray.on_patch + run;
    ray.end = ray.rim + run * direction;
    while (ray.point.size() < stations.size() && stations[ray.point.size()] <= ray.reach)
        ray.point.push_back(ray.rim + (stations[ray.point.size()] - ray.on_patch) * direction);
}

}  // namespace

SweptRay sweep_ray(const surface::Patch& patch, const RayStart& start,
                   std::span<const double> stations) {
    SweptRay ray;
    ray.source = start;
    ray.start_direction =
        surface::chart_direction(patch, start.at.triangle, start.direction).normalized();
    const Vec2 from = patch.chart_point(start.at);
    std::vector<double> distances;
    distances.reserve(stations.size());
    for (const double station : stations) {
        if (station > start.distance)
            distances.push_back(station - start.distance);
        else if (start.before != nullptr && ray.point.size() < start.before->point.size())
            ray.point.push_back(start.before->point[ray.point.size()]);
        else
            ray.point.push_back(from);
    }
    const auto traced = surface::trace_geodesic(patch, {start.at, start.direction}, distances);
    for (const auto& at : traced.at) ray.point.push_back(patch.chart_point(at));
    ray.left_patch = traced.left_patch;
    if (!traced.left_patch) {
        ray.reach = ray.on_patch = stations.back();
        ray.end = ray.rim = ray.point.back();
        return ray;
    }
    ray.over_hull_end = traced.left_over_hull_end;
    ray.on_patch = start.distance + traced.length;
    ray.rim = patch.chart_point(traced.end);
    go_on_straight(ray, patch, traced.end_chart_direction, stations);
    return ray;
}

}  // namespace tearline::dish
