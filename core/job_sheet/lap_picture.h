#pragma once
#include <string>

#include "core/job_sheet/hull_picture.h"
#include "core/plan/plan.h"

namespace tearline::job_sheet {

/// How wide pieces of a ply lie on each other at their seams [mm]; 0 where they meet edge to edge.
[[nodiscard]] double lap_of(const templates::LaidPly& ply, const job::Job& job);

/// Laps of all plies as bands round their seams and relief cuts as lines on the hull, each with the
/// number of its ply, if it is one; those that lie together share a number plate. Empty where there
/// are none.
[[nodiscard]] std::string laps_on_hull(const Plan& plan, const HullProjection& view);

}  // namespace tearline::job_sheet
