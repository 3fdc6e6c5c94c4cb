#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/damage/damage_outline.h"
#include "core/job/job.h"
#include "core/surface/patch.h"

namespace tearline::damage {

/// Refuses an opening that lies where a repair does not reach.
///
/// @param by   place in damage.opening
/// @param off  [mm] of it from the damage's edge
[[nodiscard]] tl::unexpected<Error> out_of_reach(std::size_t by, double off, const Vec3& place);

/// An opening that the cloth goes round.
struct KeptOpening {
    DamageOutline edge;  ///< counter-clockwise round it, on the base surface
    bool in_model = false;
    std::size_t asked = 0;  ///< by place in damage.opening
    job::ScarfTo scarf_to = job::ScarfTo::none;
    double clear = 0.0;     ///< [mm] between its edge and the cloth
    bool slit = false;      ///< each ply is cut from its hole to its edge
    Vec3 middle{0, 0, 0};   ///< [mm]
    double width = 0.0;     ///< [mm] the widest across, and square to that
    double height = 0.0;    ///< [mm]
    double area_mm2 = 0.0;  ///< of what it takes away, as laid out in the patch's chart
};

/// The openings of the hull inside the damage and those that the job names, each with what the job
/// says of it (DEFINITIONS.md, Openings).
///
/// @error bad_input  an opening inside the outline without a word that it is kept, all listed with
///                   middle and size; a word of an opening that is not there
[[nodiscard]] Result<std::vector<KeptOpening>> kept_openings(const surface::Patch& patch,
                                                             const DamageOutline& outline,
                                                             const job::Damage& damage,
                                                             const Vec3& bow, const Vec3& up);

}  // namespace tearline::damage
