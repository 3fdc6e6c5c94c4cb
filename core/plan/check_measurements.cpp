#include "core/plan/check_measurements.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <utility>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/ground/ground.h"
#include "core/ground/place_points.h"
#include "core/ground/sounded_depth.h"
#include "core/hull/read_hull.h"
#include "core/job/figure_words.h"
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
    warnings.push_back(
        warning_of("beyond-the-batten", "the repair reaches " + said_length(beyond, 0) +
                                            " beyond the ends of the batten, where nothing was "
                                            "measured: use a longer batten"));
}

/// What a slip in a table must be to be found.
Sentence told_apart(const hull::HandMeasured& by_hand) {
    if (!by_hand.influence) return {};
    if (!(by_hand.tells <= tolerance::contradicting_figure))
        return "; there are too few figures to tell a wrong one by the others: measure more, or "
               "each twice";
    return "; by the way the figures scatter, one that is wrong by less than " +
           said_length(by_hand.tells, 1) + " would not stand out";
}

double off(const MeasuredCheck& check) {
    return std::abs(check.figure_mm - check.passes_mm);
}

Sentence place_words(const MeasuredCheck& check) {
    return plainly(check.place, job::figure_words(check.place));
}

/// What 1 mm of error does [mm]; a figure that moves an edge without end tells nothing of it.
Sentence rate_words(double mm) {
    constexpr double tells_nothing = 20.0;
    return mm > tells_nothing ? "more than " + said_length(tells_nothing, 0) : said_length(mm, 2);
}

/// What errors of reading do to the templates.
Sentence rates_words(const std::vector<MeasuredCheck>& checks) {
    constexpr std::size_t most_told = 6;  // a batten's figures; a table's are in plan.json
    std::vector<MeasuredCheck> moving;
    for (const MeasuredCheck& check : checks)
        if (check.edge_mm_per_mm) moving.push_back(check);
    if (moving.empty()) return {};
    Sentence words =
        "; " + said_length(1.0, 0) + " of error moves an edge of the widest template by";
    if (moving.size() > most_told) {
        const auto most = std::max_element(moving.begin(), moving.end(), [](auto& a, auto& b) {
            return *a.edge_mm_per_mm < *b.edge_mm_per_mm;
        });
        const Sentence moved = *most->edge_mm_per_mm < 0.005 ? "less than " + said_length(0.01, 2)
                                                             : rate_words(*most->edge_mm_per_mm);
        return words + " " + moved + " at most, in " + place_words(*most) +
               plainly("; the others are in plan.json", "");
    }
    for (std::size_t i = 0; i < moving.size(); ++i)
        words += (i > 0 ? ", " : ": ") + place_words(moving[i]) + " " +
                 rate_words(*moving[i].edge_mm_per_mm);
    return words;
}

/// How near a surface passes [mm]: no nearer than anybody reads.
Sentence within_words(double mm) {
    constexpr double read = 0.1;
    return said_thickness(std::max(mm, read), 1);
}

/// How well the surface meets what was measured: praise only where it has earned it.
void warn_of_figures(const hull::HandMeasured& by_hand, const std::vector<MeasuredCheck>& checks,
                     Warnings& warnings) {
    const auto worst = std::max_element(
        checks.begin(), checks.end(), [](const auto& a, const auto& b) { return off(a) < off(b); });
    const std::string count = std::to_string(checks.size()) + " measured figures";
    const bool misses = off(*worst) > tolerance::measured_miss;
    if (misses)
        warnings.push_back(warning_of(
            "measured-hull-off",
            "the hull that is drawn misses a figure it was measured by: " + place_words(*worst) +
                " was measured as " + said_length(worst->figure_mm, 1) + " and it has " +
                said_length(worst->passes_mm, 1) + " there, " + said_length(off(*worst), 1) +
                " off: measure there and round it again before anything is cut"));
    Sentence words = "the hull is drawn from " + count;
    if (!misses)
        words += " and passes within " + within_words(off(*worst)) + " of every one (" +
                 place_words(*worst) + " the farthest)";
    // On the sheet the rates stand in the table of what was measured.
    warnings.push_back(warning_of(
        "measured-hull", words + plainly(rates_words(checks).told, "") + told_apart(by_hand)));
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
