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

void warn(Plan& plan, std::string code, std::string message) {
    plan.warnings.push_back(warning_of(std::move(code), std::move(message)));
}

/// A dish deeper than the laminate that it is ground into was thick.
void warn_of_depth(const job::Job& job, Warnings& out) {
    const auto& old = job.old_laminate;
    if (!old || !old->thickness || !(job.damage.depth > *old->thickness + tolerance::level)) return;
    out.push_back(warning_of(
        "depth-over-old-laminate",
        plainly("damage.depth ", "a depth of ") + said_length(job.damage.depth) + " is more than " +
            plainly("old_laminate.thickness ", "the old laminate, ") +
            said_length(*old->thickness) +
            ": the damage goes right through or the thickness is wrong; measure the edge of it"));
}

}  // namespace

void check_laminate(const plies::PlyLevels& levels, Plan& plan) {
    warn_of_depth(plan.job, plan.warnings);
    if (levels.plies.empty()) return;
    const std::vector<job::StackEntry> all = all_plies(levels, plan.job);
    // What stays is counted from the floor, over the cured plies as they were really built.
    const double built = plan.built ? plan.built->built_mm : 0.0;
    const double kept = laid_before(all, plan.job) + plan.totals.kept_mm - built;
    plan.comparison = laminate::compare(all, plan.job, kept);
    plan.scarf_check =
        laminate::check_scarf(laminate::lowest(laminate::layers_of(all, plan.job), kept), plan.job);
    if (plan.comparison->weaker) warn(plan, "patch-weaker", plan.comparison->verdict);
    if (plan.comparison->much_stiffer && !plan.comparison->weaker)
        warn(plan, "patch-stiffer", plan.comparison->verdict);
    if (plan.scarf_check->too_short())
        warn(plan, "scarf-short",
             plan.scarf_check->verdict + " " + std::string(laminate::scarf_check_words()));
}

}  // namespace tearline::plan
