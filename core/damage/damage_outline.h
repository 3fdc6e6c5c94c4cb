#pragma once
#include <vector>

#include "core/job/job.h"
#include "core/surface/patch.h"

namespace tearline::damage {

/// One point of the damage outline on the patch.
struct OutlinePoint {
    surface::Location at;
    Vec3 position;     ///< [mm] on the base surface
    Vec3 tangent_in;   ///< unit, along the outline, arriving; differs from tangent_out at a corner
    Vec3 tangent_out;  ///< unit, along the outline, leaving
};

/// The closed curve round the floor of the dish, counter-clockwise seen from the laying side.
struct DamageOutline {
    std::vector<OutlinePoint> points;  ///< dense: chords follow the curve to 0.01 mm
    Loop2 chart;                       ///< [mm] the same points in the patch's chart
};

/// Joins the picked points, or draws the disc or ellipse, on the base surface.
///
/// @error bad_input  fewer than 3 points, a point off the hull, a curve that crosses itself,
///                   leaves the surface or encloses an opening
[[nodiscard]] Result<DamageOutline> damage_outline(const surface::Patch& patch,
                                                   const job::Damage& damage, const Vec3& bow);

}  // namespace tearline::damage
