#pragma once
#include <cstddef>
#include <functional>

#include "core/base/result.h"
#include "core/boat/boat.h"

namespace tearline::boat {

/// Told how many of how many places are planned; from one thread at a time.
using PlacesDone = std::function<void(std::size_t, std::size_t)>;

/// Plans every place of a boat, as many at once as there are cores, on a hull that is read once.
///
/// A place without a safe answer is refused by itself, and so are two places that lie on one
/// another; the rest is planned. The same answer whatever the number of threads.
/// @error bad_input       as plan_repair(), with the place; a remnant that is none, or whose
///                        drawing changed meanwhile
/// @error no_safe_answer  no place can be planned: why the first cannot
[[nodiscard]] Result<Boat> plan_boat(const job::BoatJob& job, const PlacesDone& done = {});

}  // namespace tearline::boat
