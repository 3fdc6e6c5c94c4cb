#pragma once
#include "core/ground/ground.h"
#include "core/plan/plan.h"

namespace tearline::plan {

/// Compares the work up to job.after_ply with what was planned: by the soundings taken on it, and
/// the soundings of the dish before it, or the planned dish where there were none.
///
/// @param ground  of what is left
/// @error bad_input  soundings that show nothing laid yet
[[nodiscard]] Result<BuiltSoFar> built_so_far(const job::Job& job, const ground::Ground& ground);

/// What it means, in words: resin-rich, starved, or as planned.
[[nodiscard]] Warnings judged(const BuiltSoFar& built);

/// The glass content by mass that a thickness means.
/// @source  t = w/rho_g + w (1 - psi)/(psi rho_m) (DEFINITIONS.md, Edges), solved for psi
[[nodiscard]] double glass_content_of(double thickness, GramsPerSquareMetre weight,
                                      double cured_density);

}  // namespace tearline::plan
