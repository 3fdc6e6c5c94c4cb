#pragma once
#include "core/surface/patch.h"

namespace tearline::damage {

/// One point of the damage outline on the patch.
struct OutlinePoint {
    surface::Location at;
    Vec3 position{0, 0, 0};  ///< [mm] on the base surface
    Vec3 tangent_in{
        0, 0, 0};  ///< unit, along the outline, arriving; differs from tangent_out at a corner
    Vec3 tangent_out{0, 0, 0};  ///< unit, along the outline, leaving
};

}  // namespace tearline::damage
