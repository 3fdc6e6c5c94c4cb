#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/job/job.h"
#include "core/surface/patch.h"
#include "core/warnings/warning.h"

namespace tearline::damage {

/// One point of the damage outline on the patch.
struct OutlinePoint {
    surface::Location at;
    Vec3 position{0, 0, 0};  ///< [mm] on the base surface
    Vec3 tangent_in{
        0, 0, 0};  ///< unit, along the outline, arriving; differs from tangent_out at a corner
    Vec3 tangent_out{0, 0, 0};  ///< unit, along the outline, leaving
};

/// The closed curve round the floor of the dish, counter-clockwise seen from the laying side.
struct DamageOutline {
    std::vector<OutlinePoint> points;  ///< dense: chords follow the curve to 0.01 mm
    Loop2 chart;                       ///< [mm] the same points in the patch's chart
    Warnings warnings;                 ///< of how its points are joined
};

/// Joins the picked points, or draws the disc or ellipse, on the base surface (DEFINITIONS.md,
/// Outline).
///
/// @param bow, up  unit vectors of the job; a disc's angles count from the flat frame's x axis
/// @error bad_input  fewer than 3 points, a point off the hull, a curve that crosses itself,
///                   leaves the surface or encloses an opening
[[nodiscard]] Result<DamageOutline> damage_outline(const surface::Patch& patch,
                                                   const job::Damage& damage, const Vec3& bow,
                                                   const Vec3& up);

}  // namespace tearline::damage
