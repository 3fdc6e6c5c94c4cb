#pragma once
#include "core/base/outline.h"
#include "core/damage/damage_outline.h"
#include "core/surface/patch.h"

namespace tearline::damage {

/// The middle of the damage and the directions that every template shares: x points to the right
/// of the paper and y to its top, as the laminator sees the place.
struct FlatFrame {
    surface::Location at;     ///< the middle on the patch
    Vec2 chart{0, 0};         ///< [mm] the middle in the chart
    Vec3 middle{0, 0, 0};     ///< [mm] on the base surface
    Vec3 normal{0, 0, 1};     ///< towards the laying side
    Vec3 x{1, 0, 0};          ///< y x normal
    Vec3 y{0, 1, 0};          ///< up in the tangent plane (the bow on a bottom or deck)
    bool y_is_up = true;      ///< false: y is the bow direction, up lies near the normal's line
    Vec3 axis_from{1, 0, 0};  ///< in the tangent plane: what fibre axes are counted from
    bool axis_from_is_bow = true;  ///< false: it is starboard, the bow lies near the normal's line
};

/// The direction that fibre axes are counted from, on paper: degrees counter-clockwise from x.
[[nodiscard]] double axis_from_degrees(const FlatFrame& frame);

/// The frame of DEFINITIONS.md, Flat frame.
///
/// The middle is the base point nearest the area centroid of what the outline encloses; where that
/// lies outside the outline, the inside point farthest from the outline.
/// @param bow, up   unit vectors of the job
/// @param openings  [mm] edges in the chart. A middle that would lie in one lies up from the
///                  centroid, half way from its edge to what comes next: outline or opening
[[nodiscard]] FlatFrame flat_frame(const surface::Patch& patch, const DamageOutline& outline,
                                   const Vec3& bow, const Vec3& up,
                                   const std::vector<Loop2>& openings = {});

}  // namespace tearline::damage
