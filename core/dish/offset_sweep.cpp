#include "core/dish/offset_sweep.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"
#include "core/dish/outline_sources.h"
#include "core/dish/ray_fan.h"
#include "core/dish/shadow_fans.h"
#include "core/dish/tolerances.h"
#include "core/plane/turned.h"

namespace tearline::dish {
namespace {

std::vector<double> stations_for(std::span<const double> offsets, double step) {
    std::vector<double> stations{0.0};
    for (const double offset : offsets) {
        const double from = stations.back();
        const double room = offset - from;
        if (!(room > tolerance::chart_merge)) {
            if (room > 0.0) stations.push_back(offset);
            continue;
        }
        const int parts = std::max(1, static_cast<int>(std::ceil(room / step)));
        for (int i = 1; i < parts; ++i) stations.push_back(from + room * i / parts);
        stations.push_back(offset);
    }
    return stations;
}

/// The outline's own rays, all round.
class OutlineFront {
public:
    OutlineFront(const surface::Patch& patch, const damage::DamageOutline& outline,
                 std::span<const double> stations, const SweepOptions& options)
        : patch_(patch),
          outline_(outline),
          sources_(patch, outline),
          stations_(stations),
          filler_(patch, stations, options) {}

    Front run() {
        const std::size_t n = sources_.size();
        std::vector<SweptRay> arriving(n), leaving(n);
        for (std::size_t i = 0; i < n; ++i) {
            if (!sources_.is_corner(i)) {
                arriving[i] = leaving[i] = shoot(sources_.at_point(i));
                continue;
            }
            const std::size_t before = (i + n - 1) % n;
            leaving[i] = shoot(sources_.within(i, beside(i)));
            arriving[i] = shoot(sources_.within(before, 1.0 - beside(before)));
        }
        for (std::size_t i = 0; i < n; ++i) {
            if (sources_.is_corner(i)) turn_corner(i, arriving[i], leaving[i]);
            front_.rays.push_back(leaving[i]);
            const double from = sources_.is_corner(i) ? beside(i) : 0.0;
            const double to = sources_.is_corner((i + 1) % n) ? 1.0 - beside(i) : 1.0;
            filler_.fill(
                [&](double part) { return shoot(sources_.within(i, from + part * (to - from))); },
                sources_.length(i), leaving[i], arriving[(i + 1) % n], front_.rays);
        }
        return std::move(front_);
    }

private:
    [[nodiscard]] SweptRay shoot(const RayStart& start) const {
        return sweep_ray(patch_, start, stations_);
    }

    /// [-] how far from a corner the rays of its two sides set out.
    [[nodiscard]] double beside(std::size_t segment) const {
        return std::min(0.25, tolerance::beside_corner / sources_.length(segment));
    }

    void turn_corner(std::size_t i, const SweptRay& in, const SweptRay& out) {
        front_.rays.push_back(in);
        const Vec2 first = in.start_direction;
        const double turn =
            std::atan2(cross2(first, out.start_direction), first.dot(out.start_direction));
        // Inward corners need no fan: the rays of both sides cross.
        if (!(turn > tolerance::outline_kink)) return;
        const Vec2 corner = outline_.chart[i];
        filler_.fill(
            [&](double part) {
                const Vec2 direction = plane::turned(first, part * turn);
                return shoot(start_towards(patch_, corner, direction, -1));
            },
            turn * tolerance::turn_arm, in, out, front_.rays);
    }

    const surface::Patch& patch_;
    const damage::DamageOutline& outline_;
    OutlineSources sources_;
    std::span<const double> stations_;
    RayFiller filler_;
    Front front_;
};

/// The part of a ray between two distances, by its stations; ends where the ray does.
void walk(const OffsetSweep& sweep, const SweptRay& ray, double from, double to, Loop2& out) {
    const auto& s = sweep.stations;
    const auto first = std::upper_bound(s.begin(), s.end(), from) - s.begin();
    for (auto k = static_cast<std::size_t>(first); k < ray.point.size() && s[k] < to; ++k)
        out.push_back(ray.point[k]);
}

}  // namespace

OffsetSweep sweep_offsets(const surface::Patch& patch, const damage::DamageOutline& outline,
                          std::span<const double> offsets, const SweepOptions& options) {
    OffsetSweep sweep;
    sweep.outline = outline.chart;
    sweep.stations = stations_for(offsets, options.station_step);
    sweep.fronts.push_back(OutlineFront(patch, outline, sweep.stations, options).run());
    add_shadow_fans(patch, options, sweep);
    return sweep;
}

Loop2 raw_front(const OffsetSweep& sweep, const Front& front, double offset) {
    const auto& stations = sweep.stations;
    const auto station = static_cast<std::size_t>(
        std::lower_bound(stations.begin(), stations.end(), offset) - stations.begin());
    const auto tip = [&](const SweptRay& ray) {
        return station < ray.point.size() ? ray.point[station] : ray.end;
    };
    Loop2 loop;
    const std::size_t n = front.rays.size();
    if (!front.closed) loop.push_back(front.source);
    for (std::size_t i = 0; i < n; ++i) {
        const SweptRay& ray = front.rays[i];
        loop.push_back(tip(ray));
        if (i + 1 == n && !front.closed) break;
        const SweptRay& next = front.rays[(i + 1) % n];
        // Beside a ray that ends early the curve follows the longer one.
        const double here = std::min(ray.reach, offset), there = std::min(next.reach, offset);
        if (here < there) {
            walk(sweep, next, here, there, loop);
        } else if (there < here) {
            Loop2 back;
            walk(sweep, ray, there, here, back);
            loop.insert(loop.end(), back.rbegin(), back.rend());
        }
    }
    return loop;
}

}  // namespace tearline::dish
