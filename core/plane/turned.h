#pragma once
#include <cmath>

#include "core/base/vec.h"

namespace tearline::plane {

/// The vector turned counter-clockwise.
///
/// @param angle  [rad]
[[nodiscard]] inline Vec2 turned(const Vec2& v, double angle) {
    const double c = std::cos(angle), s = std::sin(angle);
    return {c * v.x() - s * v.y(), s * v.x() + c * v.y()};
}

}  // namespace tearline::plane
