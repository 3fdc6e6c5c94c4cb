#pragma once
#include <algorithm>

#include "core/base/vec.h"

namespace tearline::plane {

/// Where on the segment from `a` to `b` the point nearest to `p` lies [-]: 0 at `a`, 1 at `b`; 0
/// where both ends are one place. In the plane and in space.
template <class Point>
[[nodiscard]] double nearest_share(const Point& a, const Point& b, const Point& p) {
    const Point along = b - a;
    const double square = along.squaredNorm();
    return square > 0.0 ? std::clamp((p - a).dot(along) / square, 0.0, 1.0) : 0.0;
}

/// How far `p` lies from the segment from `a` to `b` [mm].
template <class Point>
[[nodiscard]] double distance_to_segment(const Point& a, const Point& b, const Point& p) {
    return (p - a - nearest_share(a, b, p) * (b - a)).norm();
}

}  // namespace tearline::plane
