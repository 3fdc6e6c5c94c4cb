#pragma once
#include "core/plan/plan.h"

namespace tearline::quantities {

/// Fills `plan.shopping` for all copies: cloth by the metre of roll, resin by the can, hardener,
/// topcoat, fairing compound; with costs where prices are given.
///
/// Needs totals and rolls. Cans are bought whole and cloth in the roll's whole width.
void fill_shopping(Plan& plan);

/// Whether a topcoat goes on: polyester's own does not bond to epoxy, so an epoxy job has one only
/// where the job file says which ([topcoat]).
[[nodiscard]] bool takes_topcoat(const job::Job& job);

}  // namespace tearline::quantities
