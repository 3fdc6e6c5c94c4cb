#pragma once
#include <functional>
#include <vector>

#include "core/pieces/split_search.h"

namespace tearline::pieces {

/// Ways to part a shape along the creases that run through it, those with fewer creases first. How
/// many parts that makes shows when it is done: `cells` stays 0.
///
/// Where a crease is curved the cloth to its two sides wants more or less length than the crease
/// has: no straight seam beside it helps, one along it does.
[[nodiscard]] std::vector<Division> crease_divisions(
    const PlyShape& shape, const std::function<bool(const Division&)>& keeps_distance);

/// Which side of the lines each triangle lies on: a number for each part that they leave. The arc
/// that a lay surface makes round a crease goes with one of its sides.
/// @param lines  [mm] chart lines that the mesh has edges along
[[nodiscard]] std::vector<std::int32_t> sides_of_lines(const plies::LaySurface& lay,
                                                       const std::vector<std::vector<Vec2>>& lines);

}  // namespace tearline::pieces
