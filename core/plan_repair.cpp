#include "core/plan_repair.h"

#include <utility>

#include "core/engine/describe_ground.h"
#include "core/engine/ground.h"
#include "core/engine/plan_plies.h"
#include "core/engine/told_once.h"
#include "core/hull/read_hull.h"
#include "core/layout/nest_rolls.h"
#include "core/quantities/quantities.h"
#include "core/templates/label_plan.h"

namespace tearline {

Result<Plan> plan_repair(const job::Job& job, const Progress& progress) {
    if (progress && !progress("reading the hull", 0.0)) return no_safe_answer("stopped");
    const auto hull = hull::read_hull(job.hull, job.damage.side);
    if (!hull) return tl::unexpected(hull.error());
    return plan_repair(job, *hull, progress);
}

Result<Plan> plan_repair(const job::Job& job, const hull::Hull& hull, const Progress& progress) {
    if (progress && !progress("meshing the place", 0.1)) return no_safe_answer("stopped");
    const auto ground = engine::lay_ground(job, hull);
    if (!ground) return tl::unexpected(ground.error());

    Plan plan;
    plan.job = job;
    plan.warnings = hull.warnings;
    plan.warnings.insert(plan.warnings.end(), ground->levels.warnings.begin(),
                         ground->levels.warnings.end());
    if (auto described = engine::describe_ground(*ground, hull, plan); !described)
        return tl::unexpected(described.error());
    if (auto planned = engine::plan_plies(*ground, plan, progress); !planned)
        return tl::unexpected(planned.error());
    plan.totals.laid_thickness_mm = ground->levels.laid_thickness;
    if (auto filled = quantities::fill_quantities(plan); !filled)
        return tl::unexpected(filled.error());
    layout::nest_rolls(plan);
    templates::label_plan(plan);
    plan.warnings = engine::told_once(std::move(plan.warnings));
    return plan;
}

}  // namespace tearline
