#pragma once
#include "core/damage/foot.h"
#include "core/surface/patch.h"

namespace tearline::damage {

/// The end of a way of given length from the centre of a disc or ellipse.
struct WayOut {
    surface::Location at;
    Vec3 direction{0, 0, 0};  ///< in space, there
    bool beyond = false;      ///< the hull ends before: `at` is the nearest place of its end
    bool over_crop = false;   ///< it ran over the rim where the patch was cropped
    int gaps = 0;             ///< openings that it crossed
};

/// Whether a foot on the hull's end is that of a point in an opening.
[[nodiscard]] bool in_opening(const surface::Patch& patch, const Foot& foot);

/// The chart point of a place beside the hull, by its foot on the hull's end.
[[nodiscard]] Vec2 chart_beside(const surface::Patch& patch, const Vec3& place, const Foot& foot);

/// Follows a geodesic from the foot of a centre; over an opening, and from a centre in one, it runs
/// straight in the chart, as a compass passes it.
///
/// @param direction  unit, in the tangent plane at the foot
[[nodiscard]] WayOut way_out(const surface::Patch& patch, const Vec3& centre, const Foot& foot,
                             const Vec3& direction, double length);

}  // namespace tearline::damage
