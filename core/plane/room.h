#pragma once
#include <functional>
#include <optional>
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// An upright rectangle, for placing words.
struct Box {
    Vec2 low{0, 0}, high{0, 0};  ///< [mm]
    [[nodiscard]] bool meets(const Box& other) const {
        return (low.array() < other.high.array()).all() && (other.low.array() < high.array()).all();
    }
};

/// The box round some points, widened by a margin [mm] on every side.
[[nodiscard]] Box box_round(const std::vector<Vec2>& points, double margin = 0.0);

/// Whether a segment touches a box.
[[nodiscard]] bool meets(const Box& box, const Vec2& a, const Vec2& b);

/// The free box of `size`, with a margin of 1 mm, nearest to the middle of a region.
///
/// @param all     [mm] box round the region; its middle comes first
/// @param steps   grid lines that are tried each way
/// @return        margin included; nothing when no place of the grid is free
[[nodiscard]] std::optional<Box> nearest_free(const Box& all, const Vec2& size, int steps,
                                              const std::function<bool(const Box&)>& is_free);

/// Distance from a point to the nearest edge of a region [mm].
[[nodiscard]] double distance_to_edge(const Region2& region, const Vec2& point);

/// An inside point about as far from every edge as there is (to a 40th of the region's extent).
[[nodiscard]] Vec2 roomiest_point(const Region2& region);

}  // namespace tearline::plane
