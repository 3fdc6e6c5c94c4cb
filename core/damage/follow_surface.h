#pragma once
#include <vector>

#include "core/damage/damage_outline.h"

namespace tearline::damage {

/// Puts points between those of a closed curve until its chords lie on the surface: where the feet
/// of a smooth curve jump from one side of a crease to the other, and where a chord cuts a corner.
///
/// Between two points the curve is a cubic in the chart, which does not bend at a crease, with
/// their tangents at its ends.
///
/// @param points  in order, with their tangents
[[nodiscard]] std::vector<OutlinePoint> follow_surface(const surface::Patch& patch,
                                                       const std::vector<OutlinePoint>& points);

}  // namespace tearline::damage
