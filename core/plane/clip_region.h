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

/// Leaves out the points of a closed curve that its neighbours stand for.
/// @param chord    [mm] how far the curve may move
/// @param longest  [mm] no two neighbours farther apart, where the curve had points between
[[nodiscard]] Loop2 thinned(const Loop2& loop, double chord, double longest);

}  // namespace tearline::plane
