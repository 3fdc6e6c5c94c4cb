#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/plan/plan.h"

namespace tearline::plan {

/// The new core of a sandwich: its plug laid flat at its own depth, what it takes, and the sandwich
/// before and after.
///
/// @param job  as planned, its damage on the face of `job.damage.side`
/// @pre  job.core stands and the damage reaches the core
/// @error no_safe_answer  a plug that cannot be laid flat, or no room for one
[[nodiscard]] Result<CorePlan> fit_core(const Plan& plan, const job::Job& job,
                                        const hull::Hull& hull);

}  // namespace tearline::plan
