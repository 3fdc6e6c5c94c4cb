#pragma once
#include "core/engine/ground.h"
#include "core/engine/straightedge.h"

namespace tearline::engine {

/// Takes the dish from the soundings of the job: its ground area, its depth field, the plies as
/// levels of it, and where it is steeper than the ratio.
///
/// @param ground  with patch, outline, frame and the levels that were planned
/// @error bad_input  soundings off the hull, outside the ground area, or that no slope can join
[[nodiscard]] Result<Ground> lay_sounded_ground(const job::Job& job, Ground ground);

/// The old surface under the straightedges of a job.
[[nodiscard]] OldSurface old_surface(const Ground& ground, const std::vector<Region2>& area);

/// A sounding's straightedge at its place.
[[nodiscard]] Straightedge straightedge_of(const Ground& ground, const surface::Location& at,
                                           const job::Sounding& sounding);

}  // namespace tearline::engine
