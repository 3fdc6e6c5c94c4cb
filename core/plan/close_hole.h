#pragma once
#include "core/base/result.h"
#include "core/ground/place_points.h"
#include "core/hull/hull.h"
#include "core/plan/plan.h"

namespace tearline::plan {

/// Adds what closes a hole to a plan: its backing, and the new core of a sandwich.
///
/// @error no_safe_answer  a sheet or a plug that cannot be laid flat
[[nodiscard]] Result<void> close_hole(Plan& plan, const ground::PlacedJob& placed,
                                      const hull::Hull& hull);

}  // namespace tearline::plan
