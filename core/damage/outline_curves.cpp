#include "core/damage/outline_curves.h"

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/damage/follow_surface.h"
#include "core/damage/foot.h"
#include "core/damage/outline_words.h"
#include "core/damage/straight_way.h"
#include "core/damage/tolerances.h"
#include "core/damage/way_out.h"
#include "core/surface/closed_spline.h"
#include "core/surface/locate_near.h"
#include "core/surface/open_spline.h"
#include "core/surface/trace_geodesic.h"

namespace tearline::damage {

namespace {

/// The step from one point to another as seen in the first one's tangent plane: over a crease it
/// goes on as the chart does, which does not bend there.
Vec3 step_to(const surface::Patch& patch, const OutlinePoint& here, const OutlinePoint& other) {
    const Vec3 step = other.position - here.position;
    const double alike = std::cos(tolerance::crease_degrees * std::numbers::pi / 180.0);
    if (patch.sample(here.at).normal.dot(patch.sample(other.at).normal) > alike) return step;
    return step.norm() *
           surface::space_direction(patch, here.at.triangle,
                                    patch.chart_point(other.at) - patch.chart_point(here.at))
               .normalized();
}

/// Tangents of a smooth curve from each point and its two neighbours, by the circle through them.
void set_smooth_tangents(const surface::Patch& patch, CurveRun& run) {
    std::vector<OutlinePoint>& points = run.points;
    const std::size_t n = points.size();
    const auto lay_down = [&](OutlinePoint& here, Vec3 tangent) {
        const Vec3 normal = patch.sample(here.at).normal;
        tangent = (tangent - tangent.dot(normal) * normal).normalized();
        here.tangent_in = here.tangent_out = tangent;
    };
    const std::size_t ends = run.closed ? 0 : 1;
    for (std::size_t i = ends; i + ends < n; ++i) {
        OutlinePoint& here = points[i];
        const Vec3 back = -step_to(patch, here, points[(i + n - 1) % n]);
        const Vec3 on = step_to(patch, here, points[(i + 1) % n]);
        // The tangent of the circle: each chord weighted by the other's length over its own.
        lay_down(here, back * (on.norm() / back.norm()) + on * (back.norm() / on.norm()));
    }
    if (run.closed) return;
    // At its ends the circle goes on: the tangent turns over the chord.
    const auto turn_over = [&](OutlinePoint& end, const OutlinePoint& inner, double way) {
        const Vec3 chord = step_to(patch, end, inner).normalized();
        const Vec3 there = n > 2 ? inner.tangent_in : Vec3(way * chord);
        lay_down(end, 2.0 * there.dot(chord) * chord - there);
    };
    turn_over(points.front(), points[1], 1.0);
    turn_over(points.back(), points[n - 2], -1.0);
}

/// The curve's point at the foot of a point of space.
Result<CurvePoint> at_foot(const surface::Patch& patch, const Vec3& point) {
    const Foot foot = foot_of(patch, point);
    if (foot.over_rim && !foot.over_hull_end) return leaves_surface(patch, point, false);
    return CurvePoint{{foot.at, foot.sample.position}, foot.over_rim};
}

/// Stretches of picks between those that lie on the hull's end or beyond it, side by side: there
/// the outline is the end itself. One closed stretch where no two such are neighbours.
struct Stretch {
    std::vector<std::size_t> pick;
    bool closed = false;
};

std::vector<Stretch> stretches_of(const std::vector<Pick>& picks) {
    const std::size_t n = picks.size();
    const auto ends = [&](std::size_t i) { return picks[i % n].on_hull_end; };
    std::size_t first = 0;
    while (first < n && !(ends(first) && ends(first + n - 1))) ++first;
    std::vector<Stretch> stretches{{{}, first == n}};
    for (std::size_t k = 0; k < n; ++k) {
        const std::size_t i = (first + k) % n;
        if (k > 0 && ends(i) && ends(i + n - 1)) stretches.push_back({});
        stretches.back().pick.push_back(i);
    }
    std::erase_if(stretches, [](const Stretch& s) { return s.pick.size() < 2; });
    return stretches;
}

Result<std::vector<CurveRun>> smooth_curve(const surface::Patch& patch, const Stretch& stretch,
                                           const std::vector<Pick>& picks) {
    std::vector<Vec3> knots;
    for (const std::size_t i : stretch.pick) knots.push_back(picks[i].knot);
    Result<std::vector<CurveRun>> runs;
    if (stretch.closed) {
        const surface::ClosedSpline spline(knots);
        runs = sample_curve(
            [&](double parameter) {
                const double whole = std::floor(parameter);
                return at_foot(patch, spline.at(static_cast<std::size_t>(whole) % spline.segments(),
                                                parameter - whole));
            },
            static_cast<int>(spline.segments()), true);
    } else {
        const surface::OpenSpline spline(knots);
        runs = sample_curve(
            [&](double parameter) {
                const auto segment =
                    std::min(static_cast<std::size_t>(parameter), spline.segments() - 1);
                return at_foot(patch, spline.at(segment, parameter - static_cast<double>(segment)));
            },
            static_cast<int>(spline.segments()), false);
    }
    if (runs)
        for (CurveRun& run : *runs) set_smooth_tangents(patch, run);
    return runs;
}

/// The straight way from one pick to another, dense enough for its bend; none where the hull ends
/// between them.
std::optional<StraightWay> way_between(const surface::Patch& patch, const Foot& from,
                                       const Foot& to) {
    // From the hull's end inwards it is found as well as the other way round, where rounding may
    // carry it over the end.
    if (to.over_rim && !from.over_rim) {
        auto way = way_between(patch, to, from);
        if (!way) return way;
        std::reverse(way->at.begin(), way->at.end());
        std::reverse(way->direction.begin(), way->direction.end());
        for (Vec3& direction : way->direction) direction = -direction;
        return way;
    }
    double bend =
        std::max(std::abs(from.sample.curvature_max), std::abs(from.sample.curvature_min));
    auto way = straight_way(patch, from.at, to.at, tolerance::damage_spacing);
    if (!way) return way;
    for (const surface::Location& at : way->at) {
        const auto sample = patch.sample(at);
        bend = std::max({bend, std::abs(sample.curvature_max), std::abs(sample.curvature_min)});
    }
    constexpr double spacing = tolerance::damage_spacing, chord = tolerance::damage_chord;
    if (bend * spacing * spacing > 8.0 * chord)
        way = straight_way(patch, from.at, to.at, std::sqrt(8.0 * chord / bend));
    return way;
}

/// What lies on the hull of the straight way from one pick to another: one run, or those before
/// and behind a notch of the hull's end, straight in the chart.
Result<std::vector<CurveRun>> leg_between(const surface::Patch& patch, const Foot& from,
                                          const Foot& to) {
    if (const auto way = way_between(patch, from, to)) {
        CurveRun run;
        for (std::size_t j = 0; j < way->at.size(); ++j)
            run.points.push_back({way->at[j], patch.sample(way->at[j]).position, way->direction[j],
                                  way->direction[j]});
        return std::vector<CurveRun>{std::move(run)};
    }
    const Vec2 start = patch.chart_point(from.at), step = patch.chart_point(to.at) - start;
    const HullEndWay end(patch);
    return sample_curve(
        [&](double part) -> Result<CurvePoint> {
            const Vec2 place = start + part * step;
            const bool beyond = !patch.locate(place).has_value();
            const auto near = surface::locate_near(patch, place);
            const Vec3 position = patch.sample(near.at).position;
            if (beyond && !(end.distance(near.chart) < tolerance::end_passed))
                return leaves_surface(patch, position, true);
            const Vec3 along = surface::space_direction(patch, near.at.triangle, step).normalized();
            return CurvePoint{{near.at, position, along, along}, beyond};
        },
        1, false);
}

Result<std::vector<CurveRun>> straight_curve(const surface::Patch& patch, const Stretch& stretch,
                                             const std::vector<Pick>& picks) {
    std::vector<CurveRun> runs(1);
    const std::size_t n = stretch.pick.size();
    for (std::size_t k = 0; k + (stretch.closed ? 0 : 1) < n; ++k) {
        const auto leg =
            leg_between(patch, picks[stretch.pick[k]].foot, picks[stretch.pick[(k + 1) % n]].foot);
        if (!leg) return leg;
        for (std::size_t part = 0; part < leg->size(); ++part) {
            if (part > 0) runs.emplace_back();
            std::vector<OutlinePoint>& points = runs.back().points;
            const std::vector<OutlinePoint>& more = (*leg)[part].points;
            const bool goes_on = part == 0 && !points.empty();
            if (goes_on) points.back().tangent_out = more.front().tangent_out;
            points.insert(points.end(), more.begin() + (goes_on ? 1 : 0), more.end());
        }
    }
    if (!stretch.closed) return runs;
    // The last pick is the first one again.
    const OutlinePoint last = runs.back().points.back();
    runs.back().points.pop_back();
    runs.front().points.front().tangent_in = last.tangent_in;
    if (runs.size() == 1) {
        runs.front().closed = true;
        return runs;
    }
    std::vector<OutlinePoint>& points = runs.back().points;
    points.insert(points.end(), runs.front().points.begin(), runs.front().points.end());
    runs.erase(runs.begin());
    return runs;
}

/// Carries the ends of an open stretch that were picked near the hull's end on to it.
void set_on_hull_end(const surface::Patch& patch, const HullEndWay& end, const Stretch& stretch,
                     std::vector<Pick>& picks) {
    if (stretch.closed) return;
    for (const std::size_t i : {stretch.pick.front(), stretch.pick.back()}) {
        Pick& pick = picks[i];
        if (pick.foot.over_hull_end) continue;
        pick.foot.at = end.nearest(pick.foot.sample.position);
        pick.foot.sample = patch.sample(pick.foot.at);
        pick.foot.over_rim = pick.foot.over_hull_end = true;
        pick.knot = pick.foot.sample.position;
    }
}

/// Length of the half-axis of a disc or ellipse at an angle from the x axis [mm].
double radius_at(const job::Damage& damage, double angle) {
    if (damage.radius) return *damage.radius;
    const double a = 0.5 * damage.length.value(), b = 0.5 * damage.height.value();
    return 1.0 / std::hypot(std::cos(angle) / a, std::sin(angle) / b);
}

}  // namespace

Result<std::vector<CurveRun>> curve_through(const surface::Patch& patch, const HullEndWay& end,
                                            const job::Damage& damage, std::vector<Pick> picks) {
    std::vector<CurveRun> runs;
    for (const Stretch& stretch : stretches_of(picks)) {
        set_on_hull_end(patch, end, stretch, picks);
        auto more = damage.join == job::Join::smooth ? smooth_curve(patch, stretch, picks)
                                                     : straight_curve(patch, stretch, picks);
        if (!more) return more;
        runs.insert(runs.end(), more->begin(), more->end());
    }
    return runs;
}

Result<std::vector<CurveRun>> curve_about_centre(const surface::Patch& patch,
                                                 const job::Damage& damage, const Vec3& bow,
                                                 const Vec3& up) {
    const Foot centre = foot_of(patch, *damage.centre);
    const Vec3& n = centre.sample.normal;
    const double reach = tolerance::outline_reach + damage.carried;
    if (!(std::abs((*damage.centre - centre.sample.position).dot(n)) <= reach) ||
        (!(centre.distance <= reach) && !in_opening(patch, centre)))
        return bad_input(
            "damage.centre",
            point_text(*damage.centre) + " is " + fixed(centre.distance, 1) +
                " mm off the hull; it must lie within " + fixed(tolerance::outline_reach, 0) +
                " mm of it, and the nearest place is " + point_text(centre.sample.position) +
                " (is the unit of the model right?)",
            *damage.centre);
    // The direction that fibre axes are counted from, as in the flat frame.
    const double near_normal = std::cos(tolerance::transom_degrees * std::numbers::pi / 180.0);
    const Vec3 along = std::abs(bow.dot(n)) > near_normal ? Vec3(bow.cross(up)) : bow;
    const Vec3 x = (along - along.dot(n) * n).normalized(), y = n.cross(x);

    constexpr int sectors = 16;
    bool round_an_opening = false;
    const auto curve = [&](double parameter) -> Result<CurvePoint> {
        const double angle = 2.0 * std::numbers::pi * parameter / sectors;
        const WayOut way =
            way_out(patch, *damage.centre, centre, std::cos(angle) * x + std::sin(angle) * y,
                    radius_at(damage, angle));
        if (way.over_crop) return leaves_surface(patch, patch.sample(way.at).position, false);
        round_an_opening = round_an_opening || way.gaps > 0;
        const auto sample = patch.sample(way.at);
        // A disc's edge is square to the ways from its centre (Gauss's lemma).
        const Vec3 square = sample.normal.cross(way.direction).normalized();
        return CurvePoint{{way.at, sample.position, square, square}, way.beyond};
    };
    auto runs = sample_curve(curve, sectors, true);
    if (runs && (!damage.radius || round_an_opening))
        for (CurveRun& run : *runs) set_smooth_tangents(patch, run);
    return runs;
}

}  // namespace tearline::damage
