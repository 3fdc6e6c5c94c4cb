#include "core/damage/damage_outline.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <string>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/damage/follow_surface.h"
#include "core/damage/foot.h"
#include "core/damage/outline_bulge.h"
#include "core/damage/outline_faults.h"
#include "core/damage/straight_way.h"
#include "core/damage/tolerances.h"
#include "core/plane/crossings.h"
#include "core/surface/closed_spline.h"
#include "core/surface/locate_near.h"
#include "core/surface/trace_geodesic.h"

namespace tearline::damage {

namespace {

std::string point_text(const Vec3& p) {
    return "[" + fixed(p.x(), 1) + ", " + fixed(p.y(), 1) + ", " + fixed(p.z(), 1) + "]";
}

tl::unexpected<Error> leaves_surface(const surface::Patch& patch, const Vec3& near, bool hull_end) {
    if (!hull_end)
        return no_safe_answer("damage",
                              "the outline runs farther over the hull, near " + point_text(near) +
                                  " mm, than its points show: pick more points",
                              near);
    return bad_input(
        "damage",
        "the outline leaves the hull near " + point_text(near) +
            " mm; keep it on the surface, clear of edges and openings" +
            (patch.ends_with_figures ? ", or measure farther out: it ends there with the figures"
                                     : ""),
        near);
}

using Curve = std::function<Result<OutlinePoint>(double)>;

/// Samples a closed curve over parameters [0, count) until chords follow it.
class Sampler {
public:
    explicit Sampler(Curve curve) : curve_(std::move(curve)) {}

    Result<std::vector<OutlinePoint>> closed(int count) {
        auto first = curve_(0.0);
        if (!first) return tl::unexpected(first.error());
        OutlinePoint before = *first;
        for (int i = 0; i < count; ++i) {
            auto after = curve_(i + 1.0);
            if (!after) return tl::unexpected(after.error());
            points_.push_back(before);
            if (auto done = refine(i, before, i + 1.0, *after, 0); !done)
                return tl::unexpected(done.error());
            before = *after;
        }
        leave_out_crowds();
        return std::move(points_);
    }

private:
    /// Where the curve jumps by a little the samples crowd on both sides of the jump, and the
    /// directions from one to the next say nothing of the way that it runs.
    void leave_out_crowds() {
        std::vector<OutlinePoint> kept;
        const auto near = [](const OutlinePoint& a, const OutlinePoint& b) {
            return (a.position - b.position).norm() < tolerance::damage_crowd;
        };
        for (const OutlinePoint& point : points_)
            if (kept.empty() || !near(kept.back(), point)) kept.push_back(point);
        while (kept.size() > 3 && near(kept.back(), kept.front())) kept.pop_back();
        if (kept.size() >= 3) points_ = std::move(kept);
    }

    /// Adds what is needed between two samples, in order.
    Result<void> refine(double a, const OutlinePoint& at_a, double b, const OutlinePoint& at_b,
                        int depth) {
        constexpr int deepest = 12, jump = 7;
        const double middle = 0.5 * (a + b);
        auto at_middle = curve_(middle);
        if (!at_middle) return tl::unexpected(at_middle.error());
        const Vec3 chord = at_b.position - at_a.position;
        // Only square to the chord: where along the curve the middle sample lies is no matter.
        const Vec3 beside = at_middle->position - at_a.position;
        const Vec3 off = beside - chord * (beside.dot(chord) / chord.squaredNorm());
        // One sample may hide a bend that turns both ways: the first levels are always taken.
        const bool follows = off.norm() <= tolerance::damage_chord &&
                             chord.norm() <= tolerance::damage_spacing && depth >= 1;
        // So short a stretch does not make so long a chord: the feet jump over a crease, and
        // points crowded there would say nothing of the way that the curve runs.
        const bool jumps = depth >= jump && chord.norm() > tolerance::damage_spacing;
        if (follows || jumps || depth >= deepest) return {};
        if (auto done = refine(a, at_a, middle, *at_middle, depth + 1); !done) return done;
        points_.push_back(*at_middle);
        return refine(middle, *at_middle, b, at_b, depth + 1);
    }

    Curve curve_;
    std::vector<OutlinePoint> points_;
};

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

/// Tangents of a smooth closed curve from each point and its two neighbours, by the circle through
/// them.
void set_smooth_tangents(const surface::Patch& patch, std::vector<OutlinePoint>& points) {
    const std::size_t n = points.size();
    for (std::size_t i = 0; i < n; ++i) {
        OutlinePoint& here = points[i];
        const Vec3 back = -step_to(patch, here, points[(i + n - 1) % n]);
        const Vec3 on = step_to(patch, here, points[(i + 1) % n]);
        // The tangent of the circle: each chord weighted by the other's length over its own.
        Vec3 tangent = back * (on.norm() / back.norm()) + on * (back.norm() / on.norm());
        const Vec3 normal = patch.sample(here.at).normal;
        tangent = (tangent - tangent.dot(normal) * normal).normalized();
        here.tangent_in = here.tangent_out = tangent;
    }
}

Result<std::vector<Foot>> feet_of_picks(const surface::Patch& patch,
                                        const std::vector<Vec3>& picks) {
    std::vector<Foot> feet;
    for (std::size_t i = 0; i < picks.size(); ++i) {
        const Foot foot = foot_of(patch, picks[i]);
        if (!(foot.distance <= tolerance::outline_reach))
            return bad_input(
                "damage.outline",
                "point " + std::to_string(i + 1) + " " + point_text(picks[i]) + " is " +
                    fixed(foot.distance, 1) + " mm off the hull; points must lie within " +
                    fixed(tolerance::outline_reach, 0) + " mm of it, and the nearest place is " +
                    point_text(foot.sample.position) + " (is the unit of the model right?)",
                picks[i]);
        feet.push_back(foot);
    }
    for (std::size_t i = 0; i < feet.size(); ++i) {
        const std::size_t next = (i + 1) % feet.size();
        if (!((feet[i].sample.position - feet[next].sample.position).norm() >
              tolerance::damage_chord))
            return bad_input("damage.outline",
                             "points " + std::to_string(i + 1) + " and " +
                                 std::to_string(next + 1) + " lie at one place, " +
                                 point_text(picks[i]) + "; leave one out",
                             picks[i]);
    }
    return feet;
}

Result<std::vector<OutlinePoint>> smooth_curve(const surface::Patch& patch,
                                               const std::vector<Foot>& feet) {
    std::vector<Vec3> knots;
    for (const Foot& foot : feet) knots.push_back(foot.sample.position);
    const surface::ClosedSpline spline(knots);
    const auto curve = [&](double parameter) -> Result<OutlinePoint> {
        const double whole = std::floor(parameter);
        const Vec3 point =
            spline.at(static_cast<std::size_t>(whole) % spline.segments(), parameter - whole);
        const Foot foot = foot_of(patch, point);
        if (foot.over_rim) return leaves_surface(patch, point, foot.over_hull_end);
        return OutlinePoint{foot.at, foot.sample.position, Vec3::Zero(), Vec3::Zero()};
    };
    auto points = Sampler(curve).closed(static_cast<int>(knots.size()));
    if (points) set_smooth_tangents(patch, *points);
    return points;
}

Result<std::vector<OutlinePoint>> straight_curve(const surface::Patch& patch,
                                                 const std::vector<Foot>& feet) {
    std::vector<OutlinePoint> points;
    std::vector<std::size_t> corner;
    Vec3 arriving = Vec3::Zero();
    for (std::size_t i = 0; i < feet.size(); ++i) {
        const Foot& from = feet[i];
        const Foot& to = feet[(i + 1) % feet.size()];
        double bend =
            std::max(std::abs(from.sample.curvature_max), std::abs(from.sample.curvature_min));
        auto way = straight_way(patch, from.at, to.at, tolerance::damage_spacing);
        if (!way)
            return leaves_surface(patch, 0.5 * (from.sample.position + to.sample.position), true);
        for (const surface::Location& at : way->at) {
            const auto sample = patch.sample(at);
            bend = std::max({bend, std::abs(sample.curvature_max), std::abs(sample.curvature_min)});
        }
        constexpr double spacing = tolerance::damage_spacing, chord = tolerance::damage_chord;
        if (bend * spacing * spacing > 8.0 * chord)
            way = straight_way(patch, from.at, to.at, std::sqrt(8.0 * chord / bend));
        if (!way)
            return leaves_surface(patch, 0.5 * (from.sample.position + to.sample.position), true);
        corner.push_back(points.size());
        for (std::size_t k = 0; k + 1 < way->at.size(); ++k) {
            const Vec3& direction = way->direction[k];
            points.push_back({way->at[k], patch.sample(way->at[k]).position,
                              k == 0 ? arriving : direction, direction});
        }
        arriving = way->direction.back();
    }
    points.front().tangent_in = arriving;
    return points;
}

/// Length of the half-axis of a disc or ellipse at an angle from the x axis [mm].
double radius_at(const job::Damage& damage, double angle) {
    if (damage.radius) return *damage.radius;
    const double a = 0.5 * damage.length.value(), b = 0.5 * damage.height.value();
    return 1.0 / std::hypot(std::cos(angle) / a, std::sin(angle) / b);
}

Result<std::vector<OutlinePoint>> curve_about_centre(const surface::Patch& patch,
                                                     const job::Damage& damage, const Vec3& bow,
                                                     const Vec3& up) {
    const Foot centre = foot_of(patch, *damage.centre);
    if (!(centre.distance <= tolerance::outline_reach))
        return bad_input(
            "damage.centre",
            point_text(*damage.centre) + " is " + fixed(centre.distance, 1) +
                " mm off the hull; it must lie within " + fixed(tolerance::outline_reach, 0) +
                " mm of it, and the nearest place is " + point_text(centre.sample.position) +
                " (is the unit of the model right?)",
            *damage.centre);
    const Vec3& n = centre.sample.normal;
    // The direction that fibre axes are counted from, as in the flat frame.
    const double near_normal = std::cos(tolerance::transom_degrees * std::numbers::pi / 180.0);
    const Vec3 along = std::abs(bow.dot(n)) > near_normal ? Vec3(bow.cross(up)) : bow;
    const Vec3 x = (along - along.dot(n) * n).normalized(), y = n.cross(x);

    constexpr int sectors = 16;
    const auto curve = [&](double parameter) -> Result<OutlinePoint> {
        const double angle = 2.0 * std::numbers::pi * parameter / sectors;
        const std::array<double, 1> radius{radius_at(damage, angle)};
        const auto ray = surface::trace_geodesic(
            patch, {centre.at, std::cos(angle) * x + std::sin(angle) * y}, radius);
        if (ray.left_patch)
            return leaves_surface(patch, patch.sample(ray.end).position, ray.left_over_hull_end);
        const surface::Location& at = ray.at.front();
        const auto sample = patch.sample(at);
        // A disc's edge is square to the ways from its centre (Gauss's lemma).
        const Vec3 square = sample.normal.cross(ray.direction.front()).normalized();
        return OutlinePoint{at, sample.position, square, square};
    };
    auto points = Sampler(curve).closed(sectors);
    if (points && !damage.radius) set_smooth_tangents(patch, *points);
    return points;
}

Loop3 positions_of(const std::vector<OutlinePoint>& points) {
    Loop3 loop;
    for (const OutlinePoint& point : points) loop.push_back(point.position);
    return loop;
}

/// Turns the curve so that it runs counter-clockwise in the chart.
void run_counter_clockwise(DamageOutline& outline) {
    if (signed_area(outline.chart) > 0.0) return;
    std::reverse(outline.points.begin(), outline.points.end());
    std::reverse(outline.chart.begin(), outline.chart.end());
    for (OutlinePoint& point : outline.points) {
        std::swap(point.tangent_in, point.tangent_out);
        point.tangent_in = -point.tangent_in;
        point.tangent_out = -point.tangent_out;
    }
}

}  // namespace

Result<DamageOutline> damage_outline(const surface::Patch& patch, const job::Damage& damage,
                                     const Vec3& bow, const Vec3& up) {
    Result<std::vector<OutlinePoint>> points;
    Loop2 picks;
    if (damage.centre) {
        points = curve_about_centre(patch, damage, bow, up);
    } else {
        if (damage.outline.size() < 3)
            return bad_input("damage.outline",
                             std::to_string(damage.outline.size()) +
                                 " points; give 3 or more, in order round the damage");
        const auto feet = feet_of_picks(patch, damage.outline);
        if (!feet) return tl::unexpected(feet.error());
        for (const Foot& foot : *feet) picks.push_back(patch.chart_point(foot.at));
        points = damage.join == job::Join::smooth ? smooth_curve(patch, *feet)
                                                  : straight_curve(patch, *feet);
    }
    if (!points) return tl::unexpected(points.error());
    DamageOutline outline;
    outline.points = follow_surface(patch, *points);
    for (const OutlinePoint& point : outline.points)
        outline.chart.push_back(patch.chart_point(point.at));
    if (const auto at = plane::first_side_crossed({outline.chart, {}})) {
        const Vec3& place = outline.points[*at].position;
        if (damage.centre)
            return no_safe_answer("damage.centre",
                                  "the edge of the disc or ellipse crosses itself near " +
                                      point_text(place) +
                                      " mm: beyond a sharp edge or a tight bend its ways from the "
                                      "centre meet; give damage.outline by points instead",
                                  place);
        return bad_input("damage.outline",
                         "the outline crosses itself near " + point_text(place) +
                             " mm; give its points in order round the damage",
                         place);
    }
    constexpr double least_width = 0.5;  // [mm] on average: less is a line, not a place
    const double encloses = std::abs(signed_area(outline.chart));
    if (!(encloses >= tolerance::damage_least_area) ||
        !(2.0 * encloses >= least_width * perimeter(positions_of(outline.points))))
        return bad_input(
            damage.radius   ? "damage.radius"
            : damage.centre ? "damage.length"
                            : "damage.outline",
            std::string("the ") +
                (damage.radius   ? "disc"
                 : damage.centre ? "ellipse"
                                 : "outline") +
                " encloses next to nothing, " + fixed(encloses, 2) + " mm2; " +
                (damage.centre ? "give the size of the place that is ground to full depth"
                               : "give points round the damage, not along it"));
    if (const auto opening = enclosed_opening(patch, outline.chart))
        return bad_input("damage.outline",
                         "the outline encloses an opening of the hull near " +
                             point_text(*opening) +
                             " mm; a hole right through needs a backing and " +
                             "an outline on sound skin beside it",
                         *opening);
    if (damage.join == job::Join::smooth) outline.warnings = bulge_warnings(picks, outline.chart);
    run_counter_clockwise(outline);
    return outline;
}

}  // namespace tearline::damage
