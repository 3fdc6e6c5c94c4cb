#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/damage/outline_point.h"
#include "core/job/job.h"
#include "core/surface/patch.h"
#include "core/warnings/warning.h"

namespace tearline::damage {

/// The closed curve round the floor of the dish, counter-clockwise seen from the laying side.
struct DamageOutline {
    std::vector<OutlinePoint> points;  ///< dense: chords follow the curve to 0.01 mm
    Loop2 chart;                       ///< [mm] the same points in the patch's chart
    bool cut_at_hull_end = false;      ///< part of it is the hull's own end
    Warnings warnings;                 ///< of how its points are joined
};

/// Joins the picked points, or draws the disc or ellipse, on the base surface, cut off where the
/// hull ends (DEFINITIONS.md, Outline and End of the hull).
///
/// @param bow, up  unit vectors of the job; a disc's angles count from the flat frame's x axis
/// @error bad_input  fewer than 3 points, a point off the hull, a curve that crosses itself
///                   or of which no part lies on the hull
[[nodiscard]] Result<DamageOutline> damage_outline(const surface::Patch& patch,
                                                   const job::Damage& damage, const Vec3& bow,
                                                   const Vec3& up);

}  // namespace tearline::damage
