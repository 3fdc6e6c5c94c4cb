#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// Convex loops that together cover a loop and nothing else.
///
/// Cut along diagonals from hollow corners, the short ones first: few parts, not the fewest.
/// @param loop  counter-clockwise, not crossing itself; where no diagonal is found, as in a loop
///              that touches itself, its hull stands for the part
[[nodiscard]] std::vector<Loop2> convex_parts(const Loop2& loop);

[[nodiscard]] bool is_convex(const Loop2& loop);

}  // namespace tearline::plane
