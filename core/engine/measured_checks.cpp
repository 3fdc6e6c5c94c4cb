#include "core/engine/measured_checks.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <string>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/engine/ground.h"
#include "core/engine/place_points.h"
#include "core/engine/plan_plies.h"
#include "core/hull/read_hull.h"

namespace tearline::engine {

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
    if (hull.measured) {
        all = {{"hull.measured.gap_along", &hull.measured->gap_along},
               {"hull.measured.gap_across", &hull.measured->gap_across}};
        const auto ends = [&](const std::string& name, auto& pair) {
            for (std::size_t i = 0; pair && i < 2; ++i)
                all.emplace_back(name + "[" + std::to_string(i + 1) + "]", &(*pair)[i]);
        };
        ends("hull.measured.gap_along_ends", hull.measured->gap_along_ends);
        ends("hull.measured.gap_across_ends", hull.measured->gap_across_ends);
    }
    if (hull.grid) table("hull.grid.offsets", hull.grid->offsets);
    if (hull.sections) table("hull.sections.half_breadths", hull.sections->half_breadths);
    return all;
}

/// The flat outlines of the widest ply of the stack.
Result<std::vector<Loop2>> widest_ply(const job::Job& asked) {
    const auto hull = hull::read_hull(asked.hull, asked.damage.side);
    if (!hull) return tl::unexpected(hull.error());
    const auto placed = place_points(asked, *hull);
    if (!placed) return tl::unexpected(placed.error());
    const auto ground = lay_ground(placed->job, *hull);
    if (!ground) return tl::unexpected(ground.error());
    const auto& plies = ground->levels.plies;
    const auto widest = std::max_element(
        plies.begin(), plies.end(), [](const plies::PlyLevel& a, const plies::PlyLevel& b) {
            return std::pair(!a.cover, a.edge_offset) < std::pair(!b.cover, b.edge_offset);
        });
    Plan plan;
    plan.job = placed->job;
    if (auto planned = plan_ply(*ground, *widest, plan); !planned)
        return tl::unexpected(planned.error());
    std::vector<Loop2> loops;
    for (const PlannedPiece& piece : plan.plies.front().pieces)
        loops.push_back(piece.outline.net.outer);
    return loops;
}

double distance_to(const Loop2& loop, const Vec2& p) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 a = loop[i], ab = loop[(i + 1) % loop.size()] - a;
        const double length = ab.squaredNorm();
        const double t = length > 0.0 ? std::clamp((p - a).dot(ab) / length, 0.0, 1.0) : 0.0;
        least = std::min(least, (p - a - t * ab).norm());
    }
    return least;
}

/// How far the edges of one lie from those of the other, at most [mm].
std::optional<double> moved(const std::vector<Loop2>& from, const std::vector<Loop2>& to) {
    if (from.size() != to.size()) return std::nullopt;
    double most = 0.0;
    for (std::size_t i = 0; i < from.size(); ++i)
        for (const Vec2& p : to[i]) most = std::max(most, distance_to(from[i], p));
    return most;
}

/// Rates by planning again with each figure changed: of a batten's few all; of a table that could
/// not be followed to first order a few that lie nearest the damage.
void plan_again(const PlannedGround& on, Plan& plan) {
    constexpr std::size_t most = 4;  // each costs a ply laid again
    const auto& figures = on.hull.by_hand->figures;
    std::vector<std::size_t> changed(figures.size());
    std::iota(changed.begin(), changed.end(), std::size_t{0});
    if (!on.asked.hull.measured) {
        const auto away = [&](std::size_t i) {
            return (figures[i].at - plan.frame.middle).squaredNorm();
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
            if (name == plan.measured[i].place) *figure += 1.0;
        if (const auto other = widest_ply(wrong))
            plan.measured[i].edge_mm_per_mm = moved(*reference, *other);
    }
}

/// The ply of the stack that reaches farthest; covers only where there is nothing else.
const PlannedPly* widest_of(const Plan& plan) {
    const auto widest = std::max_element(
        plan.plies.begin(), plan.plies.end(), [](const PlannedPly& a, const PlannedPly& b) {
            return std::pair(!a.cover, a.edge_offset_mm) < std::pair(!b.cover, b.edge_offset_mm);
        });
    return widest == plan.plies.end() ? nullptr : &*widest;
}

/// How far the repair reaches beyond where a batten was laid.
void warn_beyond(const hull::HandMeasured& by_hand, Plan& plan) {
    if (!(by_hand.half > 0.0)) return;
    double beyond = 0.0;
    for (const Region3& part : plan.footprint)
        for (const Vec3& p : part.outer)
            for (const Vec3& axis : {by_hand.along, by_hand.across})
                beyond = std::max(beyond, std::abs(p.dot(axis)) - by_hand.half);
    if (!(beyond > tolerance::suspicious_figure)) return;
    plan.warnings.push_back({"beyond-the-batten",
                             "the repair reaches " + fixed(beyond, 0) +
                                 " mm beyond the ends of the batten, where nothing was measured: "
                                 "use a longer batten",
                             {},
                             {},
                             {}});
}

/// What a slip in a table must be to be found.
std::string told_apart(const hull::HandMeasured& by_hand) {
    if (!by_hand.influence) return {};
    if (!(by_hand.tells <= tolerance::contradicting_figure))
        return "; there are too few figures to tell a wrong one by the others: measure more, or "
               "each twice";
    return "; by the way the figures scatter, one that is wrong by less than " +
           fixed(by_hand.tells, 1) + " mm would not stand out";
}

/// Plies that end with the net or the table end where nobody looked, not where the hull ends.
void say_where_measured_ends(Plan& plan) {
    for (Warning& warning : plan.warnings)
        if (warning.code == "cut-at-hull-end" && warning.ply)
            warning.message = "ply " + std::to_string(*warning.ply) +
                              " ends where the measured figures end: unless the hull itself ends "
                              "there, measure farther out and plan again";
}

std::string summary(const std::vector<MeasuredCheck>& checks) {
    const auto off = [](const MeasuredCheck& c) { return std::abs(c.figure_mm - c.passes_mm); };
    const auto worst =
        std::max_element(checks.begin(), checks.end(),
                         [&](const auto& a, const auto& b) { return off(a) < off(b); });
    std::string text = "the hull is drawn from " + std::to_string(checks.size()) +
                       " measured figures and passes within " + fixed(off(*worst), 1) +
                       " mm of every one (" + worst->place + " the farthest)";
    constexpr std::size_t most_told = 6;  // a batten's figures; a table's are in plan.json
    std::vector<MeasuredCheck> moving;
    for (const MeasuredCheck& check : checks)
        if (check.edge_mm_per_mm) moving.push_back(check);
    if (moving.empty()) return text;
    text += "; 1 mm of error moves an edge of the widest template by";
    const auto told = [](const MeasuredCheck& check) {
        return check.place + " " + fixed(*check.edge_mm_per_mm, 2) + " mm";
    };
    if (moving.size() > most_told) {
        const auto most = std::max_element(moving.begin(), moving.end(), [](auto& a, auto& b) {
            return *a.edge_mm_per_mm < *b.edge_mm_per_mm;
        });
        const bool least = *most->edge_mm_per_mm < 0.005;
        return text + " " + (least ? "less than 0.01" : fixed(*most->edge_mm_per_mm, 2)) +
               " mm at most, in " + most->place + "; the others are in plan.json";
    }
    for (std::size_t i = 0; i < moving.size(); ++i) text += (i > 0 ? ", " : ": ") + told(moving[i]);
    return text;
}

}  // namespace

void check_measurements(const PlannedGround& on, Plan& plan) {
    if (!on.hull.by_hand) return;
    for (const hull::MeasuredFigure& figure : on.hull.by_hand->figures)
        plan.measured.push_back({figure.place, figure.figure, figure.passes, std::nullopt});
    const PlannedPly* widest = widest_of(plan);
    const auto rates = widest != nullptr ? edge_rates(on, *widest) : std::nullopt;
    if (rates)
        for (std::size_t i = 0; i < rates->size(); ++i)
            plan.measured[i].edge_mm_per_mm = (*rates)[i];
    else
        plan_again(on, plan);
    warn_beyond(*on.hull.by_hand, plan);
    say_where_measured_ends(plan);
    plan.warnings.push_back(
        {"measured-hull", summary(plan.measured) + told_apart(*on.hull.by_hand), {}, {}, {}});
}

}  // namespace tearline::engine
