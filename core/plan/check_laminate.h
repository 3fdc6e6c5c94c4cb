#pragma once
#include "core/plan/plan.h"
#include "core/plies/ply_levels.h"

namespace tearline::plan {

/// Fills the comparison of what stays with the old laminate and the scarf check, and warns of what
/// they show.
///
/// @pre  plan.totals.kept_mm is known
void check_laminate(const plies::PlyLevels& levels, Plan& plan);

}  // namespace tearline::plan
