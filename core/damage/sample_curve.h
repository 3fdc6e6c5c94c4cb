#pragma once
#include <functional>
#include <vector>

#include "core/base/result.h"
#include "core/damage/outline_point.h"

namespace tearline::damage {

/// A point of a curve drawn on the hull, or of its part beyond the hull's end.
struct CurvePoint {
    OutlinePoint on;      ///< beyond the end: the nearest place of it
    bool beyond = false;  ///< the hull is not there
};

/// A curve by its parameter.
using Curve = std::function<Result<CurvePoint>(double)>;

/// A stretch of a curve that lies on the hull.
struct CurveRun {
    std::vector<OutlinePoint> points;  ///< in order; of an open one the first and the last lie on
                                       ///< the hull's end
    bool closed = false;
};

/// Samples a curve over parameters [0, count] until chords follow it; where it passes over the
/// hull's end it falls into runs.
///
/// @param closed  parameter `count` is parameter 0 again
[[nodiscard]] Result<std::vector<CurveRun>> sample_curve(const Curve& curve, int count,
                                                         bool closed);

}  // namespace tearline::damage
