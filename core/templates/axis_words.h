#pragma once
#include <string>

#include "core/job/job.h"
#include "core/templates/directions.h"

namespace tearline::templates {

/// How a fibre axis runs on the hull, in words that are right on either side of it: "warp 30
/// degrees UP from the bow". Biaxial cloth is told by its roll's length.
///
/// A warp has no front: of its two ends the one within 90 degrees of the bow direction is told.
/// @param axis_degrees  from the bow direction, counter-clockwise seen from the laying side
/// @return  nothing for mat, which has no grain
[[nodiscard]] std::string axis_words(const Directions& directions, job::FabricKind kind,
                                     double axis_degrees);

}  // namespace tearline::templates
