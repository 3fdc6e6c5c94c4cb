#pragma once
#include <functional>
#include <optional>

#include "core/base/outline.h"
#include "core/plane/box.h"

namespace tearline::plane {

/// The free box of `size`, with a margin of 1 mm, nearest to the middle of a region.
///
/// @param all     [mm] box round the region; its middle comes first
/// @param steps   grid lines that are tried each way
/// @return        margin included; nothing when no place of the grid is free
[[nodiscard]] std::optional<Box> nearest_free(const Box& all, const Vec2& size, int steps,
                                              const std::function<bool(const Box&)>& is_free);

/// An inside point about as far from every edge as there is (to a 40th of the region's extent, by a
/// grid): where words and a datum have room, which no measure is taken from. The flat frame, which
/// everything is measured from, finds its own to a tenth of a millimetre (damage/flat_frame).
[[nodiscard]] Vec2 roomiest_point(const Region2& region);

}  // namespace tearline::plane
