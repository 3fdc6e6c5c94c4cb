#pragma once
#include "core/ground/ground.h"

namespace tearline::ground {

/// Takes the dish from the soundings of the job: its ground area, its depth field, the plies as
/// levels of it, and where it is steeper than the ratio.
///
/// @param ground  with patch, outline, frame and the levels that were planned
/// @error bad_input  soundings off the hull, outside the ground area, or that no slope can join
[[nodiscard]] Result<Ground> lay_sounded_ground(const job::Job& job, Ground ground);

}  // namespace tearline::ground
