#pragma once
#include <optional>
#include <vector>

#include "core/surface/patch.h"

namespace tearline::damage {

/// A shortest way on the surface between two places, point after point.
struct StraightWay {
    std::vector<surface::Location> at;  ///< first and last included
    std::vector<Vec3> direction;        ///< unit tangent at each of `at`
    double length = 0.0;                ///< [mm]
};

/// Finds the geodesic from one place to another by shooting and correcting the aim in the chart;
/// where rays part and none ends there, by pulling a thread taut.
///
/// @param spacing  [mm] > 0, points of the way are no farther apart
/// @return nothing where no straight way joins them on the patch
[[nodiscard]] std::optional<StraightWay> straight_way(const surface::Patch& patch,
                                                      const surface::Location& from,
                                                      const surface::Location& to, double spacing);

}  // namespace tearline::damage
