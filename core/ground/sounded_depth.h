#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/warnings/warning.h"

namespace tearline::ground {

struct Ground;

/// The job with the depth of its dish: where the file gives none and straightedges were used, the
/// deepest sounding below the old surface.
///
/// A straightedge rests outside the ground area, and where the outline goes round the floor that
/// area is as much wider as the dish is deep: depth and readings are found in turn, from no scarf
/// on until they settle.
/// @pre every point of the job is known
/// @error bad_input  soundings that cannot be where the job says, or that give no depth
[[nodiscard]] Result<job::Job> with_depth(job::Job job, const hull::Hull& hull);

/// Says of a depth that the job does not give where it comes from.
[[nodiscard]] Warnings depth_taken(const job::Job& job, const Ground& ground);

}  // namespace tearline::ground
