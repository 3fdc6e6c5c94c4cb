#pragma once
#include <optional>

#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/surface/patch.h"
#include "core/warnings/warning.h"

namespace tearline::ground {

/// A job whose every point is known, and the hull about its marks.
struct PlacedJob {
    job::Job job;                               ///< nothing taped any more; marks with their places
    std::optional<surface::Patch> about_marks;  ///< where tapes were laid; none without any
    Warnings warnings;
};

/// Finds marks, points by tape and points given in the plane on the hull.
///
/// Tape is laid on the face that the glass is laid from. Marks known only by their distances lie on
/// the line through the middle of a measured hull along the bow direction, the first aft, the
/// second forward, equally far from the middle.
/// @error bad_input  with the line of the job file
[[nodiscard]] Result<PlacedJob> place_points(const job::Job& job, const hull::Hull& hull);

}  // namespace tearline::ground
