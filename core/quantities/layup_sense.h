#pragma once
#include "core/plan/plan.h"

namespace tearline::quantities {

/// How deep the floor lies under the hull's surface [mm]: as sounded, else as the job says; half
/// way through, what was built and what is left over it.
[[nodiscard]] double depth_of_floor(const Plan& plan);

/// Fills what is sanded off and what stays of a plan with its plies: `sanding_mm`, `kept_mm`,
/// `kept_plies`, `plies_over_ground`.
void fill_sanding(Plan& plan);

/// Stacks that a laminator would shake the head at: roving straight on ground glass, two rovings
/// with no mat between, too few fresh layers left over ground glass.
///
/// Needs what `fill_sanding` fills.
/// @source  common practice; of mat between rovings for polyester and vinylester, not for epoxy
[[nodiscard]] Warnings layup_warnings(const Plan& plan);

}  // namespace tearline::quantities
