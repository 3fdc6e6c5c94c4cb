#pragma once
#include <vector>

#include "core/boat/boat.h"
#include "core/boat/plan_boat.h"

namespace tearline::boat {

/// The places of a boat, each by itself, in the order of its job.
///
/// @error bad_input  of the first place in the file that has one
[[nodiscard]] Result<std::vector<Repair>> plan_places(const job::BoatJob& job,
                                                      const PlacesDone& done);

}  // namespace tearline::boat
