#include "core/plan/check_measurements.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <string>
#include <utility>

#include "core/base/tolerances.h"
#include "core/ground/ground.h"
#include "core/ground/place_points.h"
#include "core/ground/sounded_depth.h"
#include "core/hull/read_hull.h"
#include "core/plan/lay_plies.h"
#include "core/plan/tolerances.h"
#include "core/plane/nearest_on_line.h"
#include "core/rates/edge_rates.h"

namespace tearline::plan {

namespace {

/// Every figure of a hull by the name it has in messages.
std::vector<std::pair<std::string, double*>> figures_of(job::HullOptions& hull) {
    std::vector<std::pair<std::string, double*>> all;
    const auto table = [&](const std::string& name, std::vector<std::vector<double>>& rows) {
        for (std::size_t i = 0; i < rows.size(); ++i)
            for (std::size_t j = 0; j < rows[i].size(); ++j)
                all.emplace_back(
                    name + "[" + std::to_string(i + 1) + "][" + std::to_string(j + 1) + "]",
                    &rows[i][j]);
    };
    const auto ends = [&](const std::string& name, auto& pair) {
        for (std::size_t i = 0; pair && i < 2; ++i)
            all.emplace_back(name + "[" + std::to_string(i + 1) + "]", &(*pair)[i]);
    };
    if (hull.measured) {
        all = {{"hull.measured.gap_along", &hull.measured->gap_along},
               {"hull.measured.gap_across", &hull.measured->gap_across}};
        ends("hull.measured.gap_along_ends", hull.measured->gap_along_ends);
        ends("hull.measured.gap_across_ends", hull.measured->gap_across_ends);
    }
    if (hull.corner) {
        job::Corner& corner = *hull.corner;
        if (corner.radius) all.emplace_back("hull.corner.radius", &*corner.radius);
        for (std::size_t i = 0; i < corner.profile.size(); ++i)
            all.emplace_back("hull.corner.profile[" + std::to_string(i + 1) + "]",
                             &corner.profile[i][1]);
        ends("hull.corner.gaps_along", corner.gaps_along);
        ends("hull.corner.gaps_across", corner.gaps_across);
    }
    if (hull.grid) table("hull.grid.offsets", hull.grid->offsets);
    if (hull.sections) table("hull.sections.half_breadths", hull.sections->half_breadths);
    return all;
}

/// The flat outlines of the widest ply of the stack.
Result<std::vector<Loop2>> widest_ply(const job::Job& asked) {
    const auto hull = hull::read_hull(asked.hull, asked.damage.side);
    if (!hull) return tl::unexpected(hull.error());
    const auto placed = ground::place_points(asked, *hull);
    if (!placed) return tl::unexpected(placed.error());
    const auto job = ground::with_depth(placed->job, *hull);
    if (!job) return tl::unexpected(job.error());
    const auto ground = ground::lay_ground(*job, *hull);
    if (!ground) return tl::unexpected(ground.error());
    const auto& plies = ground->levels.plies;
    const auto widest = std::max_element(
        plies.begin(), plies.end(), [](const plies::PlyLevel& a, const plies::PlyLevel& b) {
            return std::pair(!a.cover, a.edge_offset) < std::pair(!b.cover, b.edge_offset);
        });
    const auto laid = lay_plies(*ground, *job, {&*widest, 1});
    if (!laid) return tl::unexpected(laid.error());
    std::vector<Loop2> loops;
    for (const templates::LaidPiece& piece : laid->plies.front().pieces)
        loops.push_back(piece.outline.net.outer);
    return loops;
}

/// How far the edges of one lie from those of the other, at most [mm].
std::optional<double> moved(const std::vector<Loop2>& from, const std::vector<Loop2>& to) {
    if (from.size() != to.size()) return std::nullopt;
    double most = 0.0;
    for (std::size_t i = 0; i < from.size(); ++i)
        for (const Vec2& p : to[i]) most = std::max(most, plane::distance_to_loop(from[i], p));
    return most;
}

/// Rates by planning again with each figure changed: of a batten's few all; of a table that could
/// not be followed to first order a few that lie nearest the damage.
void plan_again(const rates::PlannedGround& on, std::vector<MeasuredCheck>& checks) {
    constexpr std::size_t most = 4;  // each costs a ply laid again
    const auto& figures = on.hull.by_hand->figures;
    std::vector<std::size_t> changed(figures.size());
    std::iota(changed.begin(), changed.end(), std::size_t{0});
    if (!on.asked.hull.measured) {
        const auto away = [&](std::size_t i) {
            return (figures[i].at - on.ground.frame.middle).squaredNorm();
        };
        std::stable_sort(changed.begin(), changed.end(),
                         [&](std::size_t a, std::size_t b) { return away(a) < away(b); });
        changed.resize(std::min(most, changed.size()));
    }
    const auto reference = widest_ply(on.asked);
    if (!reference) return;
    for (const std::size_t i : changed) {
        job::Job wrong = on.asked;
        for (const auto& [name, figure] : figures_of(wrong.hull))
            if (name == checks[i].place) *figure += 1.0;
        if (const auto other = widest_ply(wrong))
            checks[i].edge_mm_per_mm = moved(*reference, *other);
    }
}

/// The ply of the stack that reaches farthest; covers only where there is nothing else.
const templates::LaidPly* widest_of(std::span<const templates::LaidPly> plies) {
    const auto widest = std::max_element(plies.begin(), plies.end(), [](auto& a, auto& b) {
        return std::pair(!a.cover, a.edge_offset_mm) < std::pair(!b.cover, b.edge_offset_mm);
    });
    return widest == plies.end() ? nullptr : &*widest;
}

/// How far the repair reaches beyond where a batten was laid.
void warn_beyond(const hull::HandMeasured& by_hand, const plies::NetRegion& footprint,
                 Warnings& warnings) {
    if (!(by_hand.half > 0.0)) return;
    double beyond = 0.0;
    for (const Region3& part : footprint.on_base)
        for (const Vec3& p : part.outer)
            for (const Vec3& axis : {by_hand.along, by_hand.across})
                beyond = std::max(beyond, std::abs(p.dot(axis)) - by_hand.half);
    if (!(beyond > tolerance::suspicious_figure)) return;
    warnings.push_back({warn::BeyondTheBatten{beyond}});
}

/// How large a slip in a table must be to be found [mm]; nothing for a hull that is no table.
std::optional<double> tells(const hull::HandMeasured& by_hand) {
    if (!by_hand.influence) return std::nullopt;
    return by_hand.tells <= tolerance::contradicting_figure
               ? by_hand.tells
               : std::numeric_limits<double>::infinity();
}

double off(const MeasuredCheck& check) {
    return std::abs(check.figure_mm - check.passes_mm);
}

/// How well the surface meets what was measured: praise only where it has earned it.
void warn_of_figures(const hull::HandMeasured& by_hand, const std::vector<MeasuredCheck>& checks,
                     Warnings& warnings) {
    const auto worst = std::max_element(
        checks.begin(), checks.end(), [](const auto& a, const auto& b) { return off(a) < off(b); });
    const bool misses = off(*worst) > tolerance::measured_miss;
    if (misses)
        warnings.push_back(
            {warn::MeasuredHullOff{worst->place, worst->figure_mm, worst->passes_mm}});
    warn::MeasuredHull drawn{checks.size(), worst->place, off(*worst), misses, {}, tells(by_hand)};
    for (const MeasuredCheck& check : checks)
        if (check.edge_mm_per_mm) drawn.rates.push_back({check.place, *check.edge_mm_per_mm});
    warnings.push_back({std::move(drawn)});
}

}  // namespace

MeasuredChecks check_measurements(const rates::PlannedGround& on,
                                  std::span<const templates::LaidPly> plies) {
    MeasuredChecks checks;
    if (!on.hull.by_hand) return checks;
    for (const hull::MeasuredFigure& figure : on.hull.by_hand->figures)
        checks.figures.push_back({figure.place, figure.figure, figure.passes, std::nullopt});
    const templates::LaidPly* widest = widest_of(plies);
    const auto rates = widest != nullptr ? rates::edge_rates(on, *widest) : std::nullopt;
    if (rates)
        for (std::size_t i = 0; i < rates->size(); ++i)
            checks.figures[i].edge_mm_per_mm = (*rates)[i];
    else
        plan_again(on, checks.figures);
    warn_beyond(*on.hull.by_hand, on.ground.region_at(on.ground.footprint_offset), checks.warnings);
    warn_of_figures(*on.hull.by_hand, checks.figures, checks.warnings);
    return checks;
}

}  // namespace tearline::plan
