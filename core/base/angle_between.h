#pragma once
#include <cmath>

#include "core/base/vec.h"

namespace tearline {

/// [rad] from 0 to pi, exact for small angles too.
[[nodiscard]] inline double angle_between(const Vec3& a, const Vec3& b) {
    return std::atan2(a.cross(b).norm(), a.dot(b));
}

}  // namespace tearline
