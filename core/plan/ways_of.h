#pragma once
#include <functional>
#include <vector>

#include "core/plan/plan.h"

namespace tearline::plan {

/// Plans a job of another way.
using PlanWay = std::function<Result<Plan>(const job::Job&)>;

/// What a hole costs from outside, from inside and from both sides: the plan as made, and the
/// others made for comparison. A stack given ply by ply is that of the way asked for: the others
/// repeat its cloths in turn until they are full.
[[nodiscard]] std::vector<Way> ways_of(const Plan& made, const job::Job& job, const PlanWay& plan);

}  // namespace tearline::plan
