#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"

namespace tearline::hull {

/// The hull near the damage as measured by hand: from gaps under a batten, from offsets of a plane,
/// or lofted from a table of offsets.
///
/// A fair spline surface that is treated like one face of a CAD model. The batten's patch reaches
/// half as far again as the batten, the others to their outermost figures. Coordinates are the
/// person's own: for battens and grids x and y in the plane, z towards the person; bow and up say
/// how they lie on the boat.
/// @param options  with `measured`, `grid` or `sections`
/// @error bad_input  figures that contradict each other, with their line, if known, and place
[[nodiscard]] Result<Hull> measured_hull(const job::HullOptions& options, job::Side side);

}  // namespace tearline::hull
