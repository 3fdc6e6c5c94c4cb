#include "core/engine/check_laminate.h"

#include <string>
#include <utility>

namespace tearline::engine {

namespace {

/// Plies that stay when the covers are sanded back; those above the surface stay where they were
/// asked for to match the old laminate.
std::vector<job::StackEntry> lasting_stack(const plies::PlyLevels& levels, const job::Job& job) {
    const bool aimed = job.layup.stack.empty() && job.layup.fill_to != job::FillTo::thickness;
    const std::size_t stack = levels.plies.size() - job.layup.cover.size();
    std::vector<job::StackEntry> lasting;
    for (std::size_t i = 0; i < levels.plies.size(); ++i)
        if (aimed ? i < stack : !levels.plies[i].cover) lasting.push_back(levels.plies[i].entry);
    return lasting;
}

void warn(Plan& plan, std::string code, std::string message) {
    plan.warnings.push_back(warning_of(std::move(code), std::move(message)));
}

}  // namespace

void check_laminate(const plies::PlyLevels& levels, Plan& plan) {
    const std::vector<job::StackEntry> stack = lasting_stack(levels, plan.job);
    if (stack.empty()) return;
    plan.comparison = laminate::compare(stack, plan.job);
    plan.scarf_check = laminate::check_scarf(stack, plan.job);
    if (plan.comparison->weaker) warn(plan, "patch-weaker", plan.comparison->verdict);
    if (plan.comparison->much_stiffer && !plan.comparison->weaker)
        warn(plan, "patch-stiffer", plan.comparison->verdict);
    if (plan.scarf_check->required_ratio &&
        !(plan.scarf_check->ratio >= *plan.scarf_check->required_ratio))
        warn(plan, "scarf-short",
             plan.scarf_check->verdict + " " + std::string(laminate::scarf_check_words()));
}

}  // namespace tearline::engine
