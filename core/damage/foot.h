#pragma once
#include "core/surface/patch.h"

namespace tearline::damage {

/// Where a point of space is carried to on the base surface along its normal.
struct Foot {
    surface::Location at;
    surface::SurfaceSample sample;
    double distance = 0.0;       ///< [mm] of the point from the surface
    bool over_rim = false;       ///< the nearest place is the patch's rim: there is no normal foot
    bool over_hull_end = false;  ///< and that rim is the hull's own end
};

/// The foot of the normal through a point near the patch.
[[nodiscard]] Foot foot_of(const surface::Patch& patch, const Vec3& point);

}  // namespace tearline::damage
