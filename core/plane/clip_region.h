#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// The places that the loops wind round at least once, inside the domain: overlaps are united and
/// parts that are wound round backwards disappear.
///
/// @param loops   [mm] closed curves that may cross themselves and each other
/// @param domain  [mm] what the result is cut by
/// @return        regions of at least tolerance::least_island, larger ones first
[[nodiscard]] std::vector<Region2> united_inside(const std::vector<Loop2>& loops,
                                                 const Region2& domain);

}  // namespace tearline::plane
