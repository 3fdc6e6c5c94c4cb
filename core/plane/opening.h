#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// Opening and closing of mathematical morphology, by a disc as wide as `width` [mm].
///
/// What lies inside another region still does: both keep that order.
/// @param loops  outer loops counter-clockwise, holes clockwise
/// @param chord  [mm] how far a rounded corner may lie inside the true arc
/// @return  opened: without parts narrower than the disc; closed: gaps narrower than it filled
[[nodiscard]] std::vector<Loop2> opened(const std::vector<Loop2>& loops, double width,
                                        double chord);
[[nodiscard]] std::vector<Loop2> closed(const std::vector<Loop2>& loops, double width,
                                        double chord);

/// Whether a disc as wide as `width` [mm] has room anywhere in a region.
[[nodiscard]] bool holds_disc(const Region2& region, double width, double chord);

}  // namespace tearline::plane
