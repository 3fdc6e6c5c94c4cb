#pragma once
#include <string>

#include "core/boat/boat.h"

namespace tearline::boat {

/// job-sheet.html of a boat: which places there are, in which order they are laid, what is cut,
/// mixed and bought for all of them. What is done at a place stands on its own sheet.
[[nodiscard]] std::string boat_sheet(const Boat& boat);

/// What all places share as a plan, for the parts of a sheet that show it: pieces under the names
/// that they have among all, rolls, shopping list.
[[nodiscard]] Plan as_one_plan(const Boat& boat);

}  // namespace tearline::boat
