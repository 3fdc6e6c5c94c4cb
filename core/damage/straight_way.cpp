#include "core/damage/straight_way.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "core/damage/tolerances.h"
#include "core/plane/turned.h"
#include "core/surface/locate_near.h"
#include "core/surface/taut_way.h"
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

/// The way where rays part behind vertices and none comes near enough.
std::optional<StraightWay> pulled_way(const surface::Patch& patch, const surface::Location& from,
                                      const surface::Location& to, double spacing) {
    const auto stretches = surface::taut_way(patch, from, to);
    if (!stretches) return std::nullopt;
    StraightWay way;
    for (const surface::Stretch& stretch : *stretches) way.length += stretch.length;
    const auto add = [&](const surface::Stretch& stretch, double share) {
        const surface::Location at{stretch.triangle,
                                   stretch.from + share * (stretch.to - stretch.from)};
        way.at.push_back(at);
        way.direction.push_back(surface::moving_direction(patch, at, stretch.to - stretch.from));
    };
    add(stretches->front(), 0.0);
    const int parts = std::max(1, static_cast<int>(std::ceil(way.length / spacing)));
    double passed = 0.0;  // [mm] to the end of the stretch
    int next = 1;
    for (const surface::Stretch& stretch : *stretches) {
        passed += stretch.length;
        for (; next < parts && way.length * next / parts <= passed; ++next)
            add(stretch, 1.0 - (passed - way.length * next / parts) / stretch.length);
    }
    add(stretches->back(), 1.0);
    way.at.front() = from;
    way.at.back() = to;
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
        if (ray.left_patch && ray.length < 0.5 * shot.length) break;
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
    if (!(best.miss <= tolerance::straight_way_miss)) return pulled_way(patch, from, to, spacing);
    return way_of(patch, from, to, best, spacing);
}

}  // namespace tearline::damage
