#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::formats {

/// A vertex of a line whose way on to the next may be an arc.
struct BulgedPoint {
    Vec2 at{0, 0};  ///< [mm]
    double bulge =
        0.0;  ///< tangent of a quarter of the arc's angle, positive to the left; 0: straight
};

/// A closed line with runs of points that lie on one circle made arcs.
///
/// Corners, where the line turns by more than 15 degrees, stay vertices.
/// @param error  [mm] > 0: no point of the line is farther than this from its arc, nor the arc from
///               the line by more than its chords already are
[[nodiscard]] std::vector<BulgedPoint> with_arcs(const Loop2& loop, double error);

}  // namespace tearline::formats
