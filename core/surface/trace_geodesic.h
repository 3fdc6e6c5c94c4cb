#pragma once
#include <span>
#include <vector>

#include "core/surface/patch.h"

namespace tearline::surface {

/// A direction in the tangent plane at a location, as a space vector.
struct Ray {
    Location from;
    Vec3 direction;  ///< need not be unit; its tangential part counts
};

/// A geodesic followed from its start: where it is at each asked distance.
struct TracedRay {
    std::vector<Location> at;     ///< as many as distances, while on the patch
    std::vector<Vec3> direction;  ///< unit tangent at each of `at`
    bool left_patch = false;      ///< ran over the rim before the last distance
    bool left_over_hull_end = false;
    double length = 0.0;             ///< [mm] run in all
    Location end;                    ///< last place on the patch
    Vec2 end_chart_direction{0, 0};  ///< unit, in the chart at `end`
};

/// Follows a straightest line over the patch by unfolding triangle after triangle with their arc
/// lengths: across faces and creases.
///
/// @param distances  [mm] ascending, > 0
[[nodiscard]] TracedRay trace_geodesic(const Patch& patch, const Ray& ray,
                                       std::span<const double> distances);

}  // namespace tearline::surface
