#include "core/damage/straight_way.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "core/damage/tolerances.h"
#include "core/plane/turned.h"
#include "core/surface/locate_near.h"
#include "core/surface/trace_geodesic.h"

namespace tearline::damage {

namespace {

/// [-] of the spacing: how far along a way its first direction is looked at.
constexpr double first_look = 0.001;

/// An aim in the chart and how far to go.
struct Shot {
    Vec2 aim{0, 0};
    double length = 0.0;                                    ///< [mm]
    double miss = std::numeric_limits<double>::infinity();  ///< [mm]
};

/// The way of a shot, its end set to where it was aimed at.
std::optional<StraightWay> way_of(const surface::Patch& patch, const surface::Location& from,
                                  const surface::Location& to, const Shot& shot, double spacing) {
    const surface::Ray ray{from, surface::space_direction(patch, from.triangle, shot.aim)};
    const int parts = std::max(1, static_cast<int>(std::ceil(shot.length / spacing)));
    std::vector<double> distances;
    for (int i = 1; i <= parts; ++i) distances.push_back(shot.length * i / parts);
    auto found = surface::trace_geodesic(patch, ray, distances);
    if (found.left_patch) return std::nullopt;
    StraightWay way;
    const std::array<double, 1> first{distances.front() * first_look};
    const auto beginning = surface::trace_geodesic(patch, ray, first);
    way.at.push_back(from);
    way.direction.push_back(beginning.direction.front());
    way.at.insert(way.at.end(), found.at.begin(), found.at.end());
    way.direction.insert(way.direction.end(), found.direction.begin(), found.direction.end());
    way.at.back() = to;
    way.length = shot.length;
    return way;
}

}  // namespace

std::optional<StraightWay> straight_way(const surface::Patch& patch, const surface::Location& from,
                                        const surface::Location& to, double spacing) {
    const Vec2 start = patch.chart_point(from), target = patch.chart_point(to);
    Shot shot{target - start, (target - start).norm()}, best;
    if (!(shot.length > 0.0)) return std::nullopt;
    constexpr int most_shots = 40, whole_turns = 20;
    for (int i = 0; i < most_shots; ++i) {
        const std::array<double, 1> whole{shot.length};
        const surface::Ray shot_off{from, surface::space_direction(patch, from.triangle, shot.aim)};
        const auto ray = surface::trace_geodesic(patch, shot_off, whole);
        if (ray.left_patch && ray.length < 0.5 * shot.length) return std::nullopt;
        // Over the rim: judged as if the chart went on straight there.
        const Vec2 end = ray.left_patch ? patch.chart_point(ray.end) +
                                              (shot.length - ray.length) * ray.end_chart_direction
                                        : patch.chart_point(ray.at.front());
        shot.miss = (target - end).norm();
        if (!ray.left_patch && shot.miss < best.miss) best = shot;
        if (best.miss <= tolerance::straight_way_miss) break;
        const Vec2 flown = end - start;
        const double turn = std::atan2(cross2(flown, target - start), flown.dot(target - start));
        // Where rays part behind a vertex whole turns may jump from one side of the aim to the
        // other for ever.
        shot.aim = plane::turned(shot.aim, i < whole_turns ? turn : 0.5 * turn);
        shot.length *= (target - start).norm() / flown.norm();
    }
    if (!(best.miss <= tolerance::straight_way_parted)) return std::nullopt;
    return way_of(patch, from, to, best, spacing);
}

}  // namespace tearline::damage
