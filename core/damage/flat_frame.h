#pragma once
#include "core/base/outline.h"
#include "core/damage/damage_outline.h"
#include "core/surface/patch.h"

namespace tearline::damage {

/// The middle of the damage and the directions that every template shares.
struct FlatFrame {
    surface::Location at;  ///< the middle on the patch
    Vec2 chart{0, 0};      ///< [mm] the middle in the chart
    Vec3 middle{0, 0, 0};  ///< [mm] on the base surface
    Vec3 normal{0, 0, 1};  ///< towards the laying side
    Vec3 x{1, 0, 0};       ///< bow direction in the tangent plane (starboard on a transom)
    Vec3 y{0, 1, 0};       ///< normal x x
    bool x_is_bow = true;  ///< false: x is starboard
    bool up_is_near_normal = false;  ///< then the up arrow falls back to the bow arrow
};

/// The frame of DEFINITIONS.md, Flat frame.
///
/// The middle is the base point nearest the area centroid of what the outline encloses; where that
/// lies outside the outline, the inside point farthest from the outline.
/// @param bow, up  unit vectors of the job
[[nodiscard]] FlatFrame flat_frame(const surface::Patch& patch, const DamageOutline& outline,
                                   const Vec3& bow, const Vec3& up);

}  // namespace tearline::damage
