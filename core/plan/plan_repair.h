#pragma once
#include "core/base/progress.h"
#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/plan/plan.h"

namespace tearline::plan {
class KeptPlace;
}

namespace tearline {

/// The whole way: hull to templates and quantities.
///
/// @error bad_input       the model, the damage or the resin cannot be what the job says
/// @error no_safe_answer  no template that we would cut by exists for this geometry
[[nodiscard]] Result<Plan> plan_repair(const job::Job& job, const Progress& progress = {});

/// The same on a hull that is already read, for a program that keeps it.
[[nodiscard]] Result<Plan> plan_repair(const job::Job& job, const hull::Hull& hull,
                                       const Progress& progress = {});

/// The same for a program that plans again and again: what hangs on the repair's shape alone is
/// kept, and taken as long as that and the hull stay.
[[nodiscard]] Result<Plan> plan_repair(const job::Job& job, const hull::Hull& hull,
                                       plan::KeptPlace& kept, const Progress& progress = {});

/// The same of one of several places of a boat.
///
/// @param repair  its name, which stands on every template
[[nodiscard]] Result<Plan> plan_place(const std::string& repair, const job::Job& job,
                                      const hull::Hull& hull);

}  // namespace tearline
