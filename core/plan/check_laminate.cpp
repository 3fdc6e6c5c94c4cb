#include "core/plan/check_laminate.h"

#include <string>
#include <utility>

#include "core/base/tolerances.h"
#include "core/laminate/ply_thickness.h"

namespace tearline::plan {

namespace {

/// Every ply over the floor in the order of laying, those under what was sounded half way too.
std::vector<job::StackEntry> all_plies(const plies::PlyLevels& levels, const job::Job& job) {
    const auto& asked = job.layup.stack.empty() ? job.layup.fill : job.layup.stack;
    std::vector<job::StackEntry> all;
    for (int i = 0; i < job.after_ply; ++i)
        all.push_back(asked[static_cast<std::size_t>(i) % asked.size()]);
    for (const plies::PlyLevel& ply : levels.plies) all.push_back(ply.entry);
    return all;
}

/// Thickness of the plies laid before the plan goes on [mm].
double laid_before(const std::vector<job::StackEntry>& all, const job::Job& job) {
    double sum = 0.0;
    for (std::size_t i = 0; i < static_cast<std::size_t>(job.after_ply); ++i)
        sum += laminate::ply_thickness(job.fabrics.at(all[i].fabric), job.resin);
    return sum;
}

/// A dish deeper than the laminate that it is ground into was thick.
void warn_of_depth(const job::Job& job, Warnings& out) {
    const auto& old = job.old_laminate;
    if (!old || !old->thickness || !(job.damage.depth > *old->thickness + tolerance::level)) return;
    out.push_back({warn::DepthOverOldLaminate{job.damage.depth, *old->thickness}});
}

}  // namespace

LaminateCheck check_laminate(const plies::PlyLevels& levels, const job::Job& job, double kept,
                             double built) {
    LaminateCheck check;
    Warnings& warnings = check.warnings;
    warn_of_depth(job, warnings);
    if (levels.plies.empty()) return check;
    const std::vector<job::StackEntry> all = all_plies(levels, job);
    // What stays is counted from the floor, over the cured plies as they were really built.
    const double stays = laid_before(all, job) + kept - built;
    check.comparison = laminate::compare(all, job, stays);
    check.scarf =
        laminate::check_scarf(laminate::lowest(laminate::layers_of(all, job), stays), job);
    if (check.comparison->weaker)
        warnings.push_back({warn::PatchWeaker{check.comparison->verdict}});
    if (check.comparison->much_stiffer && !check.comparison->weaker)
        warnings.push_back({warn::PatchStiffer{check.comparison->verdict}});
    if (check.scarf->too_short())
        warnings.push_back({warn::ScarfShort{check.scarf->verdict + " " +
                                             std::string(laminate::scarf_check_words())}});
    return check;
}

}  // namespace tearline::plan
