#pragma once
#include <optional>

#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/plan/plan.h"

namespace tearline::plan {

/// What closes the hole of a plan from behind while its first plies are laid; nothing where no
/// backing is asked for.
///
/// Its strain is that of the uncut sheet with its lap on the far face (DEFINITIONS.md, Sides).
/// @param job  as planned, its damage on the face of `job.damage.side`
/// @error no_safe_answer  a sheet asked for that cannot be laid flat
[[nodiscard]] Result<std::optional<BackingPlan>> back_hole(const Plan& plan, const job::Job& job,
                                                           const hull::Hull& hull);

}  // namespace tearline::plan
