#pragma once
#include <optional>
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// Two sides of a region's edges that cross, numbered from its outer loop's first point on.
struct Crossing {
    std::size_t side = 0, other = 0;  ///< the lower number first
    Vec2 at{0, 0};                    ///< [mm]
};

/// Every place where the edges of a region cross one another, from left to right.
///
/// Sides that only touch, as the two sides of a closed slit do, are no crossing.
/// @param none  [mm2] twice an area that counts as none: a point so near to a side lies on it
[[nodiscard]] std::vector<Crossing> crossings(const Region2& region, double none = 0.0);

/// Whether there is any.
[[nodiscard]] bool crosses_itself(const Region2& region);

/// The first side that another one crosses, going round.
[[nodiscard]] std::optional<std::size_t> first_side_crossed(const Region2& region,
                                                            double none = 0.0);

}  // namespace tearline::plane
