#include "core/plies/ply_levels.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/dish/planned_dish.h"
#include "core/job/most_plies.h"
#include "core/job/sides.h"
#include "core/laminate/compare.h"
#include "core/laminate/ply_thickness.h"
#include "core/plies/tolerances.h"

namespace tearline::plies {

namespace {

/// Depth at which the glass should end: below the base surface by a topcoat that stays on.
double depth_to_fill(const job::Job& job) {
    return job.damage.depth - (job.topcoat.final_coat ? job.topcoat.thickness : 0.0);
}

double thickness_of(const job::Job& job, const std::string& fabric) {
    const auto found = job.fabrics.find(fabric);
    if (found == job.fabrics.end()) throw std::logic_error("a ply of an unknown fabric: " + fabric);
    return laminate::ply_thickness(found->second, job.resin);
}

/// Whether `fill` has what it aims at: the depth, or the old laminate's stiffness or strength.
bool is_full(const std::vector<job::StackEntry>& stack, double height, const job::Job& job) {
    if (job.layup.fill_to == job::FillTo::thickness)
        return depth_to_fill(job) - height < tolerance::fill_short;
    return laminate::reaches_aim(stack, job);
}

/// The stack, or the fewest plies of `fill` in turn that reach what it aims at.
Result<std::vector<job::StackEntry>> stack_of(const job::Job& job) {
    std::vector<job::StackEntry> stack;
    if (job.part.skin_coat) stack.push_back({job::skin_coat_mat});
    const std::size_t before = stack.size();
    if (!job.layup.stack.empty()) {
        stack.insert(stack.end(), job.layup.stack.begin(), job.layup.stack.end());
        return stack;
    }
    const auto& fill = job.layup.fill;
    if (fill.empty()) throw std::logic_error("a job with neither stack nor fill");
    double height = 0.0;
    for (const job::StackEntry& entry : stack) height += thickness_of(job, entry.fabric);
    do {
        if (stack.size() == job::most_plies)
            return bad_input(
                "layup.fill",
                "more than " + std::to_string(job::most_plies) + " plies would be needed " +
                    (job.layup.fill_to == job::FillTo::thickness
                         ? "for damage.depth " + shortest(job.damage.depth) + " mm"
                         : "to match the old laminate") +
                    ", and one repair takes at most " + std::to_string(job::most_plies) +
                    ", by fill as by stack; use a heavier cloth");
        stack.push_back(fill[(stack.size() - before) % fill.size()]);
        height += thickness_of(job, stack.back().fabric);
    } while (!is_full(stack, height, job));
    return stack;
}

void add_ply(const job::Job& job, const job::StackEntry& entry, bool cover, PlyLevels& levels) {
    PlyLevel ply;
    ply.number = job.part.plies_before + static_cast<int>(levels.plies.size()) + 1;
    ply.entry = entry;
    ply.cover = cover;
    ply.thickness = thickness_of(job, entry.fabric);
    ply.height_below = levels.laid_thickness;
    ply.rest_depth = job.damage.depth - ply.height_below;
    ply.lay_depth = ply.rest_depth - 0.5 * ply.thickness;
    ply.lies = cover                                           ? Lies::resting
               : job.layup.order == job::Order::smallest_first ? Lies::level
                                                               : Lies::along;
    levels.laid_thickness += ply.thickness;
    levels.plies.push_back(ply);
}

std::size_t count_in_dish(const PlyLevels& levels) {
    return static_cast<std::size_t>(std::count_if(levels.plies.begin(), levels.plies.end(),
                                                  [](const PlyLevel& ply) { return !ply.cover; }));
}

/// Edges of the plies in the dish, the damage outline being edge 0; whether least_step moved any.
bool set_edges(const job::Job& job, std::size_t in_dish, PlyLevels& levels) {
    const double ratio = job.scarf.ratio, depth = job.damage.depth;
    const bool smallest_first = job.layup.order == job::Order::smallest_first;
    bool widened = false;
    double next_smaller = 0.0;
    for (std::size_t i = 0; i < in_dish; ++i) {
        PlyLevel& ply = levels.plies[smallest_first ? i : in_dish - 1 - i];
        const double height = ply.height_below + (smallest_first ? ply.thickness : 0.0);
        const double on_scarf =
            smallest_first ? std::min(ratio * height, ratio * depth) : ratio * (depth - height);
        const double stepped = next_smaller + job.scarf.least_step;
        // Plies of the straight scarf differ from it by rounding only.
        widened = widened || stepped > on_scarf + tolerance::level;
        ply.edge_offset = std::max(on_scarf, stepped);
        next_smaller = ply.edge_offset;
    }
    return widened;
}

/// Straight scarf, or through the rings that least_step moved.
std::vector<Vec2> dish_profile(const job::Job& job, std::size_t in_dish, bool widened,
                               const PlyLevels& levels) {
    const double ratio = job.scarf.ratio, depth = job.damage.depth;
    std::vector<Vec2> profile{{0.0, depth}};
    if (!widened) {
        profile.emplace_back(ratio * depth, 0.0);
        return profile;
    }
    const bool smallest_first = job.layup.order == job::Order::smallest_first;
    for (std::size_t i = 0; i < in_dish; ++i) {
        const PlyLevel& ply = levels.plies[smallest_first ? i : in_dish - 1 - i];
        const double ring_depth = smallest_first
                                      ? std::max(0.0, depth - ply.height_below - ply.thickness)
                                      : ply.height_below;
        if (ply.edge_offset > profile.back().x() + tolerance::level)
            profile.emplace_back(ply.edge_offset, ring_depth);
    }
    // A stack that stays short leaves the last of the scarf bare, at its own ratio.
    const Vec2 last = profile.back();
    if (last.y() > tolerance::level) profile.emplace_back(last.x() + ratio * last.y(), 0.0);
    profile.back().y() = 0.0;
    return profile;
}

void set_cover_edges(const job::Job& job, PlyLevels& levels) {
    double widest = 0.0;
    for (PlyLevel& ply : levels.plies) {
        if (ply.cover) ply.edge_offset = widest + job.layup.cover_step;
        widest = std::max(widest, ply.edge_offset);
    }
}

void warn_of_floor(const job::Job& job, Warnings& warnings) {
    if (job.part.on_new) return;  // its backing, and the side laid before, are told of elsewhere
    const double depth = job.damage.depth;
    if (!job.hull.skin) {
        warnings.push_back({warn::SkinUnknown{depth}});
        return;
    }
    const double skin = *job.hull.skin;
    if (!(skin - depth > tolerance::level))
        warnings.push_back({warn::NoFloor{depth, skin}});
    else if (!(skin - depth >= tolerance::least_floor))
        warnings.push_back({warn::FloorThin{depth, skin}});
}

void warn_of_sum(const job::Job& job, double sum, double thinnest, Warnings& warnings) {
    const double target = depth_to_fill(job);
    // What stands proud to match the old laminate stays, and is told of its plies.
    if (sum > target && job.layup.fill_to != job::FillTo::thickness) return;
    if (!(std::abs(sum - target) > std::max(tolerance::stack_off_depth, 0.5 * thinnest))) return;
    warnings.push_back({warn::StackOffDepth{
        sum, job.damage.depth,
        job.topcoat.final_coat ? std::optional(job.topcoat.thickness) : std::nullopt, false}});
}

Warning above_the_surface(const job::Job& job, const PlyLevel& ply) {
    return {.cause = warn::PlyAsCover{ply.height_below, job.damage.depth,
                                      job.layup.fill_to != job::FillTo::thickness},
            .ply = ply.number};
}

void warn_of_scarf(const job::Job& job, Warnings& warnings) {
    // 12:1 is common practice, and the best of the ratios pulled by Rothbarth & Pinto 2019.
    if (job.scarf.ratio < 12.0) warnings.push_back({warn::ScarfSteep{job.scarf.ratio}});
}

}  // namespace

Result<PlyLevels> ply_levels(const job::Job& job) {
    if (!(depth_to_fill(job) > 0.0))
        return bad_input("topcoat.thickness",
                         "value " + shortest(job.topcoat.thickness) +
                             " mm: a final topcoat must be thinner than damage.depth, " +
                             shortest(job.damage.depth) + " mm");
    const auto stack = stack_of(job);
    if (!stack) return tl::unexpected(stack.error());

    PlyLevels levels;
    double thinnest = thickness_of(job, stack->front().fabric);
    for (const job::StackEntry& entry : *stack) {
        const bool above = levels.laid_thickness >= job.damage.depth - tolerance::level;
        add_ply(job, entry, above, levels);
        const PlyLevel& ply = levels.plies.back();
        thinnest = std::min(thinnest, ply.thickness);
        if (!above)
            levels.stack_thickness = levels.laid_thickness;
        else
            levels.warnings.push_back(above_the_surface(job, ply));
    }
    const double sum = levels.laid_thickness;
    for (const job::StackEntry& entry : job.layup.cover) add_ply(job, entry, true, levels);

    const std::size_t in_dish = count_in_dish(levels);
    const bool widened = set_edges(job, in_dish, levels);
    levels.dish = dish_profile(job, in_dish, widened, levels);
    set_cover_edges(job, levels);
    for (PlyLevel& ply : levels.plies) ply.edge_depth = dish_depth(levels, ply.edge_offset);
    warn_of_floor(job, levels.warnings);
    warn_of_sum(job, sum, thinnest, levels.warnings);
    warn_of_scarf(job, levels.warnings);
    return levels;
}

double dish_depth(const PlyLevels& levels, double offset) {
    return dish::depth_at(levels.dish, offset);
}

double lay_depth_over(const PlyLevel& ply, double dish_depth) {
    const double half = 0.5 * ply.thickness;
    switch (ply.lies) {
        case Lies::level:
            return ply.lay_depth;
        case Lies::along:
            return dish_depth - ply.height_below - half;
        case Lies::resting:
            return std::min(ply.rest_depth, dish_depth) - half;
    }
    return ply.lay_depth;
}

}  // namespace tearline::plies
