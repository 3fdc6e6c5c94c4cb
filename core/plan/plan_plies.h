#pragma once
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/ground/ground.h"
#include "core/plan/plan.h"
#include "core/plan/plan_repair.h"

namespace tearline::plan {

/// Lays every ply on the hull and flat on the table; fills `plan.plies` but for its quantities.
///
/// @error no_safe_answer  a ply has no flat shape that we would cut by; the message names it
[[nodiscard]] Result<void> plan_plies(const ground::Ground& ground, Plan& plan,
                                      const Progress& progress);

/// The same for one of ground.levels.plies alone.
[[nodiscard]] Result<void> plan_ply(const ground::Ground& ground, const plies::PlyLevel& level,
                                    Plan& plan);

}  // namespace tearline::plan
