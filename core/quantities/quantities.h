#pragma once
#include "core/base/result.h"
#include "core/plan/plan.h"

namespace tearline::quantities {

/// Fills glass, resin, hardener, topcoat, stages and cups of a plan whose pieces are laid out.
///
/// Needs: job, plies with pieces (net, tear and cut lines), dish profile, scarf and footprint
/// areas. Totals are of one copy. Warnings are added to those the plan has.
/// @error bad_input  a resin without the figures it needs, or a figure outside its range
[[nodiscard]] Result<void> fill_quantities(Plan& plan);

}  // namespace tearline::quantities
