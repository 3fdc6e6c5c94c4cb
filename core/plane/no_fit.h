#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// A coarse outline that holds the shape and half the gap round it.
///
/// Convex where that costs next to no cloth: fitting convex outlines is far quicker.
/// @param margin  [mm] >= 0
[[nodiscard]] Loop2 guarded(const Loop2& outline, double margin);

/// Where the origin of `moving` may not be put if it is to keep clear of `fixed`: outer loops
/// counter-clockwise, and clockwise ones round places inside where it is free again.
[[nodiscard]] std::vector<Loop2> no_fit(const Loop2& fixed, const Loop2& moving);

/// Corners of the places in a box that lie in none of the forbidden loops, or on their edges.
[[nodiscard]] std::vector<Vec2> free_corners(const Vec2& low, const Vec2& high,
                                             const std::vector<Loop2>& forbidden);

}  // namespace tearline::plane
