#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// Everything within a distance of a region, with round corners; a negative distance shrinks it.
///
/// Corners are rounded to tolerance::tear_rounding. Several regions where shrinking splits it, none
/// where nothing is left; holes smaller than the distance close.
/// @param distance  [mm]
[[nodiscard]] std::vector<Region2> offset_region(const Region2& region, double distance);

/// What two sets of regions have in common.
[[nodiscard]] std::vector<Region2> common_region(const std::vector<Region2>& a,
                                                 const std::vector<Region2>& b);

/// Everything that lies in any of the regions.
[[nodiscard]] std::vector<Region2> united_regions(const std::vector<Region2>& regions);

}  // namespace tearline::plane
