#pragma once
#include <string>

#include "core/output/hull_picture.h"
#include "core/plan.h"

namespace tearline::output {

/// Laps of all plies as bands round their seams and relief cuts as lines on the hull, each with the
/// number of its ply; those that lie together share a number plate. Empty where there are none.
[[nodiscard]] std::string laps_on_hull(const Plan& plan, const HullProjection& view);

}  // namespace tearline::output
