#include "core/damage/damage_outline.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/damage/follow_surface.h"
#include "core/damage/foot.h"
#include "core/damage/hull_end_way.h"
#include "core/damage/outline_bulge.h"
#include "core/damage/outline_curves.h"
#include "core/damage/outline_words.h"
#include "core/damage/tolerances.h"
#include "core/damage/way_out.h"
#include "core/plane/crossings.h"

namespace tearline::damage {

namespace {

Vec2 chart_of(const surface::Patch& patch, const Vec3& place) {
    return patch.chart_point(foot_of(patch, place).at);
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

DamageOutline on_surface(const surface::Patch& patch, const std::vector<OutlinePoint>& points) {
    DamageOutline outline;
    outline.points = follow_surface(patch, points);
    for (const OutlinePoint& point : outline.points)
        outline.chart.push_back(patch.chart_point(point.at));
    return outline;
}

/// The same curve run the other way.
CurveRun reversed(CurveRun run) {
    std::reverse(run.points.begin(), run.points.end());
    for (OutlinePoint& point : run.points) {
        std::swap(point.tangent_in, point.tangent_out);
        point.tangent_in = -point.tangent_in;
        point.tangent_out = -point.tangent_out;
    }
    return run;
}

/// What runs bound on their left, closed along the hull's end; of several parts the one that
/// `within` says.
Result<std::optional<DamageOutline>> bounded_by(const surface::Patch& patch, const HullEndWay& end,
                                                const std::vector<CurveRun>& runs,
                                                const std::optional<Vec3>& within) {
    const auto loops = end.closed(runs);
    if (!loops) return std::nullopt;
    if (loops->size() > 1 && !within)
        return bad_input("damage",
                         "the hull's end cuts the damage in " + std::to_string(loops->size()) +
                             " parts: plan each as a repair of its own, which damage.within = "
                             "[x, y, z], a point in it, tells from the others",
                         loops->back().front().position);
    for (const std::vector<OutlinePoint>& loop : *loops) {
        DamageOutline outline = on_surface(patch, loop);
        outline.cut_at_hull_end = true;
        if (loops->size() == 1 || contains(outline.chart, chart_of(patch, *within))) return outline;
    }
    return std::nullopt;
}

tl::unexpected<Error> outside(const Vec3& within) {
    return bad_input("damage.within",
                     "lies outside the damage: take it out, give the outline from end to end, or a "
                     "point in one of the parts that the hull's end leaves of it",
                     within);
}

/// The outline from what lies of it on the hull: closed already, or by the hull's end.
Result<DamageOutline> closed_along_end(const surface::Patch& patch, const HullEndWay& end,
                                       const job::Damage& damage, std::vector<CurveRun> runs) {
    if (runs.empty() && patch.ends_with_figures)
        return leaves_surface(patch, damage.centre ? *damage.centre : damage.outline.front(), true);
    if (runs.empty())
        return bad_input(damage.centre ? "damage.centre" : "damage.outline",
                         "no part of its edge lies on the hull, which ends inside or before it");
    std::erase_if(runs, [&](const CurveRun& run) { return run.closed && runs.size() > 1; });
    if (runs.front().closed) {
        DamageOutline outline = on_surface(patch, runs.front().points);
        if (damage.within && !contains(outline.chart, chart_of(patch, *damage.within)))
            return outside(*damage.within);
        return outline;
    }
    const Vec3 place = runs.front().points.front().position;
    if (patch.ends_with_figures) return leaves_surface(patch, place, true);
    auto left = bounded_by(patch, end, runs, damage.within);
    if (!left) return tl::unexpected(left.error());
    if (damage.centre) {
        if (!*left)
            return damage.within ? outside(*damage.within) : leaves_surface(patch, place, false);
        if (damage.within && !contains((*left)->chart, chart_of(patch, *damage.within)))
            return outside(*damage.within);
        return std::move(**left);
    }
    std::reverse(runs.begin(), runs.end());
    for (CurveRun& run : runs) run = reversed(std::move(run));
    auto right = bounded_by(patch, end, runs, damage.within);
    if (!right) return tl::unexpected(right.error());
    if (damage.within) {
        const Vec2 within = chart_of(patch, *damage.within);
        for (auto* part : {&*left, &*right})
            if (*part && contains((*part)->chart, within)) return std::move(**part);
        return no_safe_answer("damage.within",
                              "the part of the hull that it lies in goes on farther than the "
                              "outline shows: give an outline that bounds it",
                              *damage.within);
    }
    if (!*left && !*right) return leaves_surface(patch, place, false);
    const auto size = [](const std::optional<DamageOutline>& part) {
        return part ? std::abs(signed_area(part->chart)) : std::numeric_limits<double>::infinity();
    };
    return std::move(size(*left) <= size(*right) ? **left : **right);
}

/// Refuses a point that tells a part of the hull and lies off it.
Result<void> within_is_on_hull(const surface::Patch& patch, const job::Damage& damage) {
    if (!damage.within) return {};
    const Foot foot = foot_of(patch, *damage.within);
    const bool beyond_patch = foot.over_rim && !foot.over_hull_end;  // told where parts are chosen
    if (foot.distance <= tolerance::outline_reach + damage.carried || beyond_patch ||
        in_opening(patch, foot))
        return {};
    return bad_input(
        "damage.within",
        point_text(*damage.within) + " is " + fixed(foot.distance, 1) +
            " mm off the hull; it must lie within " + fixed(tolerance::outline_reach, 0) +
            " mm of it, in the part of the damage that is meant; the nearest place is " +
            point_text(foot.sample.position),
        *damage.within);
}

}  // namespace

Result<DamageOutline> damage_outline(const surface::Patch& patch, const job::Damage& damage,
                                     const Vec3& bow, const Vec3& up) {
    if (auto on_hull = within_is_on_hull(patch, damage); !on_hull)
        return tl::unexpected(on_hull.error());
    const HullEndWay end(patch);
    Result<std::vector<CurveRun>> runs;
    Loop2 picked;
    if (damage.centre) {
        runs = curve_about_centre(patch, damage, bow, up);
    } else {
        if (damage.outline.size() < 3)
            return bad_input("damage.outline",
                             std::to_string(damage.outline.size()) +
                                 " points; give 3 or more, in order round the damage");
        const auto picks = picks_on_hull(patch, end, damage.outline, damage.carried);
        if (!picks) return tl::unexpected(picks.error());
        for (const Pick& pick : *picks) picked.push_back(patch.chart_point(pick.foot.at));
        runs = curve_through(patch, end, damage, *picks);
    }
    if (!runs) return tl::unexpected(runs.error());
    auto drawn = closed_along_end(patch, end, damage, std::move(*runs));
    if (!drawn) return drawn;
    DamageOutline outline = std::move(*drawn);
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
    if (damage.join == job::Join::smooth && !outline.cut_at_hull_end)
        outline.warnings = bulge_warnings(picked, outline.chart);
    run_counter_clockwise(outline);
    return outline;
}

}  // namespace tearline::damage
