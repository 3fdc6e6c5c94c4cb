#include "core/dish/ray_fan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "core/dish/tolerances.h"
#include "core/plane/turned.h"
#include "core/surface/locate_near.h"
#include "core/surface/trace_geodesic.h"

namespace tearline::dish {
namespace {

double angle_between(const Vec2& a, const Vec2& b) {
    return std::atan2(cross2(a, b), a.dot(b));
}

/// The vertex between two rays at which they part, and how far out it lies.
struct Parting {
    std::int32_t vertex = -1;
    double distance = 0.0;
    std::size_t station = 0;  ///< the first one beyond it
};

std::optional<Parting> find_parting(const surface::Patch& patch, const SweptRay& a,
                                    const SweptRay& b, std::span<const double> stations) {
    const std::size_t count = std::min(a.point.size(), b.point.size());
    std::size_t beyond = 1;
    while (beyond < count && !((a.point[beyond] - b.point[beyond]).norm() > tolerance::rays_parted))
        ++beyond;
    if (beyond >= count) return std::nullopt;
    // The ray once more, in steps fine enough to pass the vertex closely: between stations the
    // chart may bend it.
    std::vector<double> distances;
    const double from = stations[beyond >= 2 ? beyond - 2 : 0], to = stations[beyond];
    const int steps = static_cast<int>(std::ceil((to - from) / tolerance::rays_parted));
    for (int i = 0; i <= steps; ++i) {
        const double distance = from + (to - from) * i / steps - a.source.distance;
        if (distance > 0.0) distances.push_back(distance);
    }
    const auto traced =
        surface::trace_geodesic(patch, {a.source.at, a.source.direction}, distances);
    Parting best;
    double nearest = tolerance::rays_parted;
    for (std::size_t i = 0; i < traced.at.size(); ++i) {
        const Vec2 place = patch.chart_point(traced.at[i]);
        for (const std::int32_t v : patch.mesh.triangle[traced.at[i].triangle.index()]) {
            const Vec2 way = patch.chart[v] - place;
            if (!(way.norm() < nearest)) continue;
            nearest = way.norm();
            const Vec2 ahead =
                surface::chart_direction(patch, traced.at[i].triangle, traced.direction[i]);
            best = {v, a.source.distance + distances[i] + way.dot(ahead) / ahead.squaredNorm(),
                    beyond};
        }
    }
    if (best.vertex < 0) return std::nullopt;
    return best;
}

}  // namespace

RayStart start_towards(const surface::Patch& patch, const Vec2& from, const Vec2& direction,
                       std::int32_t vertex) {
    const auto ahead = surface::locate_near(patch, from + tolerance::look_ahead * direction);
    RayStart start;
    start.at = surface::in_triangle(patch, ahead.at.triangle, from);
    if (vertex >= 0) {
        const auto& corners = patch.mesh.triangle[ahead.at.triangle.index()];
        for (int i = 0; i < 3; ++i)
            if (corners[i] == vertex) start.at.weights = Vec3::Unit(i);
    }
    start.direction = surface::space_direction(patch, ahead.at.triangle, direction);
    return start;
}

struct RayFiller::Span {
    const ShootBetween& shoot;
    double from, to;  ///< [-] fractions
    double width;     ///< [mm] of the whole
    const SweptRay& first;
    const SweptRay& last;
    const Origin* origins;
};

bool RayFiller::too_far_apart(const SweptRay& a, const SweptRay& b) const {
    const std::size_t count = std::min(a.point.size(), b.point.size());
    // Rays of which one ends early are brought close, so that the gap between them is a line.
    if (std::abs(a.reach - b.reach) > options_.spacing) return true;
    for (std::size_t k = 1; k < count; ++k) {
        const double apart = (a.point[k] - b.point[k]).norm();
        if (apart > options_.spacing) return true;
        const Vec2 u = a.point[k] - a.point[k - 1];
        const Vec2 v = b.point[k] - b.point[k - 1];
        // sagitta = chord x angle / 8; the sine stands for the small angle
        if (apart * std::abs(cross2(u, v)) > 8.0 * options_.sagitta * std::abs(u.dot(v)))
            return true;
    }
    return false;
}

void RayFiller::fill(const ShootBetween& shoot, double width, const SweptRay& first,
                     const SweptRay& last, std::vector<SweptRay>& out) const {
    fill({shoot, 0.0, 1.0, width, first, last, nullptr}, out);
}

void RayFiller::fill(const Span& span, std::vector<SweptRay>& out) const {
    if (!too_far_apart(span.first, span.last)) return;
    if (!((span.to - span.from) * span.width > tolerance::closest_rays)) {
        if (std::abs(span.first.reach - span.last.reach) <= options_.spacing)
            fill_from_vertex(span.first, span.last, span.origins, out);
        return;
    }
    const double middle = 0.5 * (span.from + span.to);
    const SweptRay ray = span.shoot(middle);
    fill({span.shoot, span.from, middle, span.width, span.first, ray, span.origins}, out);
    out.push_back(ray);
    fill({span.shoot, middle, span.to, span.width, ray, span.last, span.origins}, out);
}

void RayFiller::fill_from_vertex(const SweptRay& a, const SweptRay& b, const Origin* origins,
                                 std::vector<SweptRay>& out) const {
    const auto parting = find_parting(patch_, a, b, stations_);
    if (!parting) return;
    // A fan's own rays may pass its vertex again, about a sharp stem: no second fan fills that gap.
    for (const Origin* o = origins; o; o = o->before)
        if (o->vertex == parting->vertex) return;
    const Origin origin{parting->vertex, origins};
    const Vec2 place = patch_.chart[parting->vertex];
    const std::size_t k = parting->station;
    const Vec2 to_a = a.point[k] - place;
    const double sweep = angle_between(to_a, b.point[k] - place);
    if (!(sweep > 0.0) || !(to_a.norm() > 0.0)) return;
    const ShootBetween shoot = [&](double part) {
        RayStart start = start_towards(
            patch_, place, plane::turned(to_a.normalized(), part * sweep), parting->vertex);
        start.distance = parting->distance;
        start.before = &a;
        return sweep_ray(patch_, start, stations_);
    };
    // A vertex fan sets out from one place: nothing parts again before it has left it.
    if (sweep * tolerance::turn_arm > tolerance::closest_rays)
        fill({shoot, 0.0, 1.0, sweep * tolerance::turn_arm, a, b, &origin}, out);
}

}  // namespace tearline::dish
