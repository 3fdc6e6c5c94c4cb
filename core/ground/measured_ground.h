#pragma once
#include "core/ground/ground.h"

namespace tearline::ground {

/// Whether the dish of a job is measured: by soundings, or by a scan of it.
[[nodiscard]] bool is_measured(const job::Job& job, const Ground& ground);

/// Takes the dish from the soundings of the job or from a scan of it: its ground area, its depth
/// field, the plies as levels of it, and where it is steeper than the ratio.
///
/// @param ground  with patch, outline, frame and the levels that were planned
/// @error bad_input  soundings off the hull, outside the ground area, or that no slope can join; a
///                   scan that shows no dish
[[nodiscard]] Result<Ground> lay_measured_ground(const job::Job& job, Ground ground);

/// Depth of the deepest place that a scan shows inside the outline [mm].
[[nodiscard]] Result<double> deepest_scanned(const job::Job& job, const Ground& ground);

}  // namespace tearline::ground
