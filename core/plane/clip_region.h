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

/// What some regions keep when the insides of loops are taken out of them; cleaned as above.
///
/// @param loops  [mm] closed curves that do not cross themselves
[[nodiscard]] std::vector<Region2> regions_without(const std::vector<Region2>& regions,
                                                   const std::vector<Loop2>& loops);

}  // namespace tearline::plane
