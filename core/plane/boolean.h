#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// Boolean operations and offsets of regions bounded by closed curves, by Clipper: the one place
/// that knows it. Coordinates are rounded to tolerance::clipper_grid. In what is returned outer
/// loops are counter-clockwise, holes clockwise.
enum class Boolean { unite, intersect, subtract };

/// Which places count as inside: those wound round at all, or more often counter-clockwise.
enum class Winding { any, positive };

/// @param other  what `loops` are intersected with, or what is subtracted from them
[[nodiscard]] std::vector<Loop2> combined(Boolean operation, const std::vector<Loop2>& loops,
                                          const std::vector<Loop2>& other);
/// The same with each hole in its region.
[[nodiscard]] std::vector<Region2> combined_regions(Boolean operation,
                                                    const std::vector<Loop2>& loops,
                                                    const std::vector<Loop2>& other,
                                                    Winding winding = Winding::any);

/// Everything within a distance of what the loops bound, with round corners; shrunk by a negative
/// one.
/// @param distance  [mm]
/// @param chord     [mm] how far a rounded corner may lie inside the true arc
[[nodiscard]] std::vector<Loop2> offset(const std::vector<Loop2>& loops, double distance,
                                        double chord);
/// The same with each hole in its region.
[[nodiscard]] std::vector<Region2> offset_regions(const std::vector<Loop2>& loops, double distance,
                                                  double chord);

/// The loops of some regions, each outer one before its holes.
[[nodiscard]] std::vector<Loop2> loops_of(const std::vector<Region2>& regions);

}  // namespace tearline::plane
