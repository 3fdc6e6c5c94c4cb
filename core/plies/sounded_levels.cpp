#include "core/plies/sounded_levels.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>

#include "core/base/numbers.h"
#include "core/job/most_plies.h"
#include "core/plies/open_and_close.h"
#include "core/plies/tolerances.h"

namespace tearline::plies {

namespace {

/// The stack to lay, its covers left out: as given, or as many of `fill` as find a place.
std::vector<PlyLevel> stack_for(const job::Job& job, const PlyLevels& planned, double depth) {
    std::vector<PlyLevel> stack;
    if (!job.layup.stack.empty()) {
        for (std::size_t i = static_cast<std::size_t>(job.after_ply); i < job.layup.stack.size();
             ++i) {
            stack.push_back(planned.plies[i]);
            // However high the plan would have it: whether it has a place, the soundings say.
            stack.back().cover = false;
        }
        return stack;
    }
    // Every ply of the fill comes in turn; a bottom one that half fits is still laid.
    const auto& fill = job.layup.fill;
    const auto nth = [&](std::size_t i) {
        for (const PlyLevel& ply : planned.plies)
            if (ply.entry.fabric == fill[i % fill.size()].fabric) return ply;
        throw std::logic_error("sounded_levels: a fabric of the fill that was never planned");
    };
    double height = 0.0;
    const auto first = static_cast<std::size_t>(job.after_ply);
    for (std::size_t i = first; i <= job::most_plies; ++i) {
        PlyLevel ply = nth(i);
        const PlyLevel& bottom = stack.empty() ? ply : stack.front();
        // Smallest first, one more ply lifts the first one; largest first, it lies on top itself.
        const double half =
            job.layup.order == job::Order::smallest_first ? bottom.thickness : ply.thickness;
        const double needed = job.layup.order == job::Order::smallest_first
                                  ? height + ply.thickness - 0.5 * half
                                  : height + 0.5 * half;
        if (!(needed < depth)) break;
        ply.entry = fill[i % fill.size()];
        ply.cover = false;
        height += ply.thickness;
        stack.push_back(ply);
    }
    return stack;
}

void set_depths(const job::Job& job, double topcoat, double deepest, std::vector<PlyLevel>& stack) {
    double height = 0.0, total = 0.0;
    for (const PlyLevel& ply : stack) total += ply.thickness;
    for (PlyLevel& ply : stack) {
        ply.height_below = height;
        height += ply.thickness;
        const double half = 0.5 * ply.thickness;
        if (job.layup.order == job::Order::smallest_first) {
            ply.edge_depth = topcoat + total - height + half;
            ply.lay_depth = ply.edge_depth;
            ply.lies = Lies::level;
        } else {
            ply.edge_depth = topcoat + ply.height_below + half;
            ply.lay_depth = deepest - ply.height_below - half;
            ply.lies = Lies::along;
        }
    }
}

double area_of(const std::vector<Region2>& regions) {
    double sum = 0.0;
    for (const Region2& region : regions) sum += area(region);
    return sum;
}

double disc_radius(double mm2) {
    return std::sqrt(mm2 / std::numbers::pi);
}

void say_slivers(const OpenedRegions& tidy, const PlyLevel& ply, Warnings& warnings) {
    if (tidy.joined + tidy.dropped + tidy.inlets + tidy.tails == 0) return;
    warnings.push_back({.cause = warn::Slivers{ply.entry.fabric,
                                               tolerance::sliver,
                                               tolerance::scissors,
                                               tidy.joined - tidy.closed,
                                               tidy.closed,
                                               {tidy.dropped, tidy.dropped_mm2},
                                               tidy.tails,
                                               tidy.inlets},
                        .ply = ply.number});
}

warn::TooNarrow too_narrow(const OpenedRegions& tidy, const PlyLevel& ply) {
    return {ply.edge_depth, tolerance::sliver, {tidy.dropped, tidy.dropped_mm2}};
}

/// Takes the last plies of the fill back while the deepest one is nowhere wide enough: a pocket too
/// narrow for cloth.
void take_back_without_place(const job::Job& job, const dish::MeasuredDish& dish, double topcoat,
                             std::vector<PlyLevel>& stack, Warnings& warnings) {
    const bool smallest_first = job.layup.order == job::Order::smallest_first;
    std::optional<warn::TooNarrow> pocket;
    while (stack.size() > 1) {
        const PlyLevel& deepest = smallest_first ? stack.front() : stack.back();
        const OpenedRegions tidy =
            open_and_close(dish.deeper_than(deepest.edge_depth), tolerance::sliver);
        if (!tidy.regions.empty()) break;
        pocket = too_narrow(tidy, deepest);
        stack.pop_back();
        set_depths(job, topcoat, dish.deepest(), stack);
    }
    if (pocket) warnings.push_back({warn::PocketNarrow{*pocket}});
}

void warn_of_sum(const std::vector<PlyLevel>& stack, double to_fill, Warnings& warnings) {
    double sum = 0.0, thinnest = stack.front().thickness;
    for (const PlyLevel& ply : stack) {
        sum += ply.thickness;
        thinnest = std::min(thinnest, ply.thickness);
    }
    if (!(std::abs(sum - to_fill) > std::max(tolerance::stack_off_depth, 0.5 * thinnest))) return;
    warnings.push_back({warn::StackOffDepth{sum, to_fill, std::nullopt, true}});
}

void warn_of_depth(const job::Job& job, double deepest, Warnings& warnings) {
    if (job.after_ply > 0 || !(std::abs(deepest - job.damage.depth) > tolerance::stack_off_depth))
        return;
    warnings.push_back({warn::DepthDiffers{job.damage.depth, deepest}});
}

/// Gives each ply of the stack its place; those without one are left out.
void place_stack(const std::vector<PlyLevel>& stack, const dish::MeasuredDish& dish,
                 double ground_offset, SoundedLevels& sounded) {
    const double ground_radius = disc_radius(area_of(dish.ground()));
    for (PlyLevel ply : stack) {
        OpenedRegions tidy = open_and_close(dish.deeper_than(ply.edge_depth), tolerance::sliver);
        if (tidy.regions.empty()) {
            sounded.levels.warnings.push_back(
                {.cause = warn::PlyWithoutPlace{ply.entry.fabric, too_narrow(tidy, ply)},
                 .ply = ply.number});
            continue;
        }
        say_slivers(tidy, ply, sounded.levels.warnings);
        // As wide outside the outline as a disc of its area would be; less than nothing inside it.
        ply.edge_offset = ground_offset + disc_radius(area_of(tidy.regions)) - ground_radius;
        sounded.levels.stack_thickness += ply.thickness;
        sounded.regions.push_back(std::move(tidy.regions));
        sounded.levels.plies.push_back(ply);
    }
}

/// @param number  of the last ply of the stack, laid or left out
void add_covers(const job::Job& job, const PlyLevels& planned, double topcoat, double ground_offset,
                int number, SoundedLevels& sounded) {
    double height = 0.0, offset = ground_offset;
    const std::size_t covers = job.layup.cover.size();
    for (std::size_t i = planned.plies.size() - covers; i < planned.plies.size(); ++i) {
        PlyLevel cover = planned.plies[i];
        cover.number = ++number;
        offset += job.layup.cover_step;
        cover.edge_offset = offset;
        cover.height_below = sounded.levels.stack_thickness + height;
        // The dish is filled up to its topcoat: a cover lies over it as over the surface round it.
        cover.lay_depth = topcoat - height - 0.5 * cover.thickness;
        cover.lies = Lies::level;
        cover.edge_depth = 0.0;
        height += cover.thickness;
        sounded.levels.plies.push_back(cover);
        sounded.regions.emplace_back();
    }
    sounded.levels.laid_thickness = sounded.levels.stack_thickness + height;
}

}  // namespace

double laid_at(const std::vector<PlyLevel>& plies, double depth) {
    double sum = 0.0;
    for (const PlyLevel& ply : plies)
        if (!ply.cover && depth >= ply.edge_depth) sum += ply.thickness;
    return sum;
}

Result<SoundedLevels> sounded_levels(const job::Job& job, PlyLevels planned,
                                     const dish::MeasuredDish& dish, double ground_offset) {
    const double topcoat = job.topcoat.final_coat ? job.topcoat.thickness : 0.0;
    const double to_fill = dish.deepest() - topcoat;
    SoundedLevels sounded;
    sounded.levels.dish = planned.dish;
    for (const Warning& warning : planned.warnings)
        if (!is<warn::StackOffDepth>(warning) && !is<warn::PlyAsCover>(warning))
            sounded.levels.warnings.push_back(warning);
    std::vector<PlyLevel> stack = stack_for(job, planned, to_fill);
    if (stack.empty())
        return bad_input("damage.sounding",
                         "the deepest place is " + fixed(dish.deepest(), 2) +
                             " mm deep, less than half a ply: nothing is left to lay but covers");
    if (stack.size() + static_cast<std::size_t>(job.after_ply) > job::most_plies)
        return bad_input("layup.fill", "more than " + std::to_string(job::most_plies) +
                                           " plies would be needed for the dish as sounded, " +
                                           fixed(dish.deepest(), 1) +
                                           " mm deep; use a heavier cloth");
    set_depths(job, topcoat, dish.deepest(), stack);
    if (job.layup.stack.empty())
        take_back_without_place(job, dish, topcoat, stack, sounded.levels.warnings);
    else
        warn_of_sum(stack, to_fill, sounded.levels.warnings);
    for (std::size_t i = 0; i < stack.size(); ++i)
        stack[i].number = job.after_ply + static_cast<int>(i) + 1;
    warn_of_depth(job, dish.deepest(), sounded.levels.warnings);
    place_stack(stack, dish, ground_offset, sounded);
    if (sounded.levels.plies.empty())
        return bad_input("damage.sounding",
                         "no place is wide enough for a ply: nothing to lay but "
                         "covers and fairing compound");
    add_covers(job, planned, topcoat, ground_offset, stack.back().number, sounded);
    return sounded;
}

}  // namespace tearline::plies
