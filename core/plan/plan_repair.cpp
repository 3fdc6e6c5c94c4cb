#include "core/plan/plan_repair.h"

#include <utility>

#include "core/ground/ground.h"
#include "core/ground/mark_ways.h"
#include "core/ground/place_points.h"
#include "core/ground/skin_thickness.h"
#include "core/ground/sounded_depth.h"
#include "core/hull/read_hull.h"
#include "core/layout/nest_rolls.h"
#include "core/plan/built_so_far.h"
#include "core/plan/check_laminate.h"
#include "core/plan/check_measurements.h"
#include "core/plan/cut_pieces.h"
#include "core/plan/describe_ground.h"
#include "core/plan/dish_volumes.h"
#include "core/plan/label_plan.h"
#include "core/plan/merge_warnings.h"
#include "core/plan/plan_plies.h"
#include "core/quantities/quantities.h"
#include "core/quantities/shopping.h"

namespace tearline {

namespace {

/// Volumes of a dish known by soundings, and what was built in it so far.
Result<void> say_what_was_sounded(const ground::Ground& ground, Plan& plan) {
    if (!ground.sounded) return {};
    const auto volumes = plan::dish_volumes(plan.job, ground);
    if (!volumes) return tl::unexpected(volumes.error());
    plan.volumes = *volumes;
    if (plan.job.after_ply == 0) return {};
    const auto built = plan::built_so_far(plan.job, ground);
    if (!built) return tl::unexpected(built.error());
    plan.built = *built;
    const Warnings judged = plan::judged(*built);
    plan.warnings.insert(plan.warnings.end(), judged.begin(), judged.end());
    return {};
}

Result<Plan> plan_on(const job::Job& asked, const hull::Hull& hull, const Progress& progress) {
    if (progress && !progress("meshing the place", 0.1)) return no_safe_answer("stopped");
    auto placed = ground::place_points(asked, hull);
    if (!placed) return tl::unexpected(placed.error());
    auto deep = ground::with_depth(std::move(placed->job), hull);
    if (!deep) return tl::unexpected(deep.error());
    placed->job = std::move(*deep);
    const job::Job& job = placed->job;
    auto ground = ground::lay_ground(job, hull);
    if (!ground) return tl::unexpected(ground.error());
    ground::lay_mark_ways(*placed, *ground);

    Plan plan;
    plan.job = job;
    plan.marks = job.marks;
    plan.warnings = hull.warnings;
    plan.warnings.insert(plan.warnings.end(), placed->warnings.begin(), placed->warnings.end());
    const Warnings depth = ground::depth_taken(job);
    plan.warnings.insert(plan.warnings.end(), depth.begin(), depth.end());
    plan.warnings.insert(plan.warnings.end(), ground->outline.warnings.begin(),
                         ground->outline.warnings.end());
    plan.warnings.insert(plan.warnings.end(), ground->levels.warnings.begin(),
                         ground->levels.warnings.end());
    const Warnings skin = ground::check_skin(job, hull, ground->outline.points.front().position);
    plan.warnings.insert(plan.warnings.end(), skin.begin(), skin.end());
    if (auto described = plan::describe_ground(*ground, hull, plan); !described)
        return tl::unexpected(described.error());
    if (auto planned = plan::plan_plies(*ground, plan, progress); !planned)
        return tl::unexpected(planned.error());
    plan.totals.laid_thickness_mm = ground->levels.laid_thickness;
    if (auto sounded = say_what_was_sounded(*ground, plan); !sounded)
        return tl::unexpected(sounded.error());
    if (auto filled = quantities::fill_quantities(plan); !filled)
        return tl::unexpected(filled.error());
    plan::check_measurements({asked, *placed, hull, *ground}, plan);
    plan::check_laminate(ground->levels, plan);
    const auto nested = layout::nest_rolls(plan::cut_pieces(plan.plies), plan.job);
    plan.rolls = nested.rolls;
    plan.warnings.insert(plan.warnings.end(), nested.warnings.begin(), nested.warnings.end());
    quantities::fill_shopping(plan);
    plan::label_plan(plan);
    plan.warnings = plan::merged(std::move(plan.warnings));
    return plan;
}

}  // namespace

Result<Plan> plan_repair(const job::Job& job, const Progress& progress) {
    if (progress && !progress("reading the hull", 0.0)) return no_safe_answer("stopped");
    const auto hull = hull::read_hull(job.hull, job.damage.side);
    if (!hull) return ground::hull_refused(job, hull.error());
    return plan_repair(job, *hull, progress);
}

Result<Plan> plan_repair(const job::Job& asked, const hull::Hull& hull, const Progress& progress) {
    auto plan = plan_on(asked, hull, progress);
    if (!plan) return ground::in_job_file(asked, plan.error());
    return plan;
}

}  // namespace tearline
