#include "core/damage/straight_way.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/damage/tolerances.h"
#include "core/plane/turned.h"
#include "core/surface/locate_near.h"
#include "core/surface/trace_geodesic.h"

namespace tearline::damage {

namespace {

/// [-] of the spacing: how far along a way its first direction is looked at.
constexpr double first_look = 0.001;

}  // namespace

std::optional<StraightWay> straight_way(const surface::Patch& patch, const surface::Location& from,
                                        const surface::Location& to, double spacing) {
    const Vec2 start = patch.chart_point(from), target = patch.chart_point(to);
    Vec2 aim = target - start;
    double length = aim.norm();
    if (!(length > 0.0)) return std::nullopt;
    constexpr int most_shots = 40;
    for (int shot = 0; shot < most_shots; ++shot) {
        const std::array<double, 1> whole{length};
        const surface::Ray shot_off{from, surface::space_direction(patch, from.triangle, aim)};
        const auto ray = surface::trace_geodesic(patch, shot_off, whole);
        if (ray.left_patch && ray.length < 0.5 * length) return std::nullopt;
        // Over the rim: judged as if the chart went on straight there.
        const Vec2 end = ray.left_patch ? patch.chart_point(ray.end) +
                                              (length - ray.length) * ray.end_chart_direction
                                        : patch.chart_point(ray.at.front());
        const Vec2 miss = target - end;
        if (!ray.left_patch && miss.norm() <= tolerance::straight_way_miss) {
            const int parts = std::max(1, static_cast<int>(std::ceil(length / spacing)));
            std::vector<double> distances;
            for (int i = 1; i <= parts; ++i) distances.push_back(length * i / parts);
            auto found = surface::trace_geodesic(patch, shot_off, distances);
            if (found.left_patch) return std::nullopt;
            StraightWay way;
            const std::array<double, 1> first{distances.front() * first_look};
            const auto beginning = surface::trace_geodesic(patch, shot_off, first);
            way.at.push_back(from);
            way.direction.push_back(beginning.direction.front());
            way.at.insert(way.at.end(), found.at.begin(), found.at.end());
            way.direction.insert(way.direction.end(), found.direction.begin(),
                                 found.direction.end());
            way.at.back() = to;
            way.length = length;
            return way;
        }
        const Vec2 flown = end - start;
        const double turn = std::atan2(cross2(flown, target - start), flown.dot(target - start));
        aim = plane::turned(aim, turn);
        length *= (target - start).norm() / flown.norm();
    }
    return std::nullopt;
}

}  // namespace tearline::damage
