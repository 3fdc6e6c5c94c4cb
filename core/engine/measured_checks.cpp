#include "core/engine/measured_checks.h"

#include <algorithm>
#include <cmath>
#include <limits>
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

/// The figures worth changing: a batten's few, of a table the one nearest the damage.
std::vector<std::size_t> telling(const std::vector<hull::MeasuredFigure>& figures,
                                 const job::HullOptions& hull, const Vec3& middle) {
    std::vector<std::size_t> all;
    for (std::size_t i = 0; i < figures.size(); ++i) all.push_back(i);
    if (hull.measured) return all;
    return {*std::min_element(all.begin(), all.end(), [&](std::size_t a, std::size_t b) {
        return (figures[a].at - middle).squaredNorm() < (figures[b].at - middle).squaredNorm();
    })};
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

std::string summary(const std::vector<MeasuredCheck>& checks) {
    const auto off = [](const MeasuredCheck& c) { return std::abs(c.figure_mm - c.passes_mm); };
    const auto worst =
        std::max_element(checks.begin(), checks.end(),
                         [&](const auto& a, const auto& b) { return off(a) < off(b); });
    std::string text = "the hull is drawn from " + std::to_string(checks.size()) +
                       " measured figures and passes within " + fixed(off(*worst), 1) +
                       " mm of every one (" + worst->place + " the farthest)";
    std::string moves;
    for (const MeasuredCheck& check : checks)
        if (check.edge_mm_per_mm)
            moves += (moves.empty() ? "" : ", ") + check.place + " " +
                     fixed(*check.edge_mm_per_mm, 2) + " mm";
    if (!moves.empty()) text += "; 1 mm of error moves an edge of the widest template by: " + moves;
    return text;
}

}  // namespace

void check_measurements(const job::Job& asked, const hull::Hull& hull, Plan& plan) {
    if (!hull.by_hand) return;
    for (const hull::MeasuredFigure& figure : hull.by_hand->figures)
        plan.measured.push_back({figure.place, figure.figure, figure.passes, std::nullopt});
    if (const auto reference = widest_ply(asked)) {
        for (const std::size_t i : telling(hull.by_hand->figures, asked.hull, plan.frame.middle)) {
            job::Job wrong = asked;
            for (const auto& [name, figure] : figures_of(wrong.hull))
                if (name == plan.measured[i].place) *figure += 1.0;
            if (const auto other = widest_ply(wrong))
                plan.measured[i].edge_mm_per_mm = moved(*reference, *other);
        }
    }
    warn_beyond(*hull.by_hand, plan);
    plan.warnings.push_back({"measured-hull", summary(plan.measured), {}, {}, {}});
}

}  // namespace tearline::engine
