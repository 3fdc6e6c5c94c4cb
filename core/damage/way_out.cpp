#include "core/damage/way_out.h"

#include <array>
#include <optional>

#include "core/damage/tolerances.h"
#include "core/plane/segment.h"
#include "core/surface/locate_near.h"
#include "core/surface/trace_geodesic.h"

namespace tearline::damage {

namespace {

/// Where a straight line first meets a loop.
void meet(const Loop2& loop, const Vec2& from, const Vec2& direction, std::optional<double>& run) {
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const Vec2 side = loop[i] - loop[j], to = loop[j] - from;
        const double across = cross2(direction, side);
        if (across == 0.0) continue;
        const double along = cross2(to, side) / across, part = cross2(to, direction) / across;
        if (!(along > tolerance::least_gap) || part < 0.0 || part > 1.0) continue;
        if (!run || along < *run) run = along;
    }
}

/// How far a line runs over what is not hull; nothing where it never comes back to it.
std::optional<double> gap_ahead(const surface::Patch& patch, const Vec2& from,
                                const Vec2& direction) {
    std::optional<double> run;
    meet(patch.domain().outer, from, direction, run);
    for (const Loop2& hole : patch.domain().holes) meet(hole, from, direction, run);
    return run;
}

/// A place that a way leaves the hull from, or comes back to.
struct Brink {
    Vec3 position{0, 0, 0}, normal{0, 0, 1};
};

Brink brink_at(const surface::Patch& patch, const surface::Location& at) {
    const auto sample = patch.sample(at);
    return {sample.position, sample.normal};
}

/// The mean normal round the opening that holds a place: that of the hull that is not there.
Vec3 normal_over(const surface::Patch& patch, const Vec2& place, const Vec3& otherwise) {
    for (const Loop2& hole : patch.domain().holes) {
        if (!contains(hole, place)) continue;
        Vec3 sum = Vec3::Zero();
        for (std::size_t i = 0, j = hole.size() - 1; i < hole.size(); j = i++)
            sum += (hole[i] - hole[j]).norm() *
                   patch.sample(surface::locate_near(patch, hole[i]).at).normal;
        return sum.normalized();
    }
    return otherwise;
}

}  // namespace

Vec2 chart_beside(const surface::Patch& patch, const Vec3& place, const Foot& foot) {
    const Vec3 off = place - foot.sample.position;
    const Vec3 flat = off - off.dot(foot.sample.normal) * foot.sample.normal;
    return patch.chart_point(foot.at) + surface::chart_direction(patch, foot.at.triangle, flat);
}

bool in_opening(const surface::Patch& patch, const Foot& foot) {
    if (!foot.over_hull_end) return false;
    // Its foot lies on the rim; which loop of it is the nearest.
    const Vec2 rim = patch.chart_point(foot.at);
    for (const Loop2& hole : patch.domain().holes)
        for (std::size_t i = 0, j = hole.size() - 1; i < hole.size(); j = i++)
            if (plane::distance_to_segment(hole[j], hole[i], rim) < tolerance::damage_chord)
                return true;
    return false;
}

WayOut way_out(const surface::Patch& patch, const Vec3& centre, const Foot& foot,
               const Vec3& direction, double length) {
    WayOut out;
    Brink brink{centre, foot.sample.normal};
    out.at = foot.at;
    out.direction = direction;
    Vec2 beside = patch.chart_point(foot.at);
    Vec2 ahead = surface::chart_direction(patch, foot.at.triangle, direction).normalized();
    bool on = true;
    if (foot.over_hull_end && in_opening(patch, foot)) {
        beside = chart_beside(patch, centre, foot);
        brink.normal = normal_over(patch, beside, foot.sample.normal);
        on = patch.locate(beside).has_value();
    }
    constexpr int most_gaps = 20;
    while (out.gaps <= most_gaps) {
        if (on) {
            const std::array<double, 1> whole{length};
            const auto ray = surface::trace_geodesic(patch, {out.at, out.direction}, whole);
            if (!ray.left_patch) {
                out.at = ray.at.front();
                out.direction = ray.direction.front();
                return out;
            }
            out.at = ray.end;
            if (!ray.left_over_hull_end) {
                out.over_crop = true;
                return out;
            }
            length -= ray.length;
            beside = patch.chart_point(ray.end);
            ahead = ray.end_chart_direction;
            brink = brink_at(patch, ray.end);
        }
        const auto gap = gap_ahead(patch, beside, ahead);
        // As long as the arc of the hull that is not there; the chart may be far off over a hole.
        const auto landed = gap ? surface::locate_near(patch, beside + *gap * ahead).at : out.at;
        const Brink other = brink_at(patch, landed);
        const double arc =
            surface::arc_length(brink.position, other.position, brink.normal, other.normal);
        if (!gap || arc >= length) {
            const auto near = surface::locate_near(patch, beside + length * ahead);
            out.at = near.at;
            out.direction = surface::space_direction(patch, near.at.triangle, ahead).normalized();
            out.beyond = true;
            return out;
        }
        ++out.gaps;
        length -= arc;
        out.at = landed;
        out.direction = surface::space_direction(patch, out.at.triangle, ahead).normalized();
        on = true;
    }
    out.beyond = true;
    return out;
}

}  // namespace tearline::damage
