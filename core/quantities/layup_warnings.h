#pragma once
#include "core/quantities/repair.h"
#include "core/warnings/warning.h"

namespace tearline::quantities {

/// What is sanded off and what stays of the plies over the floor.
struct Sanding {
    double floor_mm = 0.0;      ///< how deep the floor lies under the hull's surface: as sounded,
                                ///< else as the job says; what was built and what is left over it
    double sanding_mm = 0.0;    ///< from the top of the covers to the fair surface
    double kept_mm = 0.0;       ///< when that is sanded back
    int kept_plies = 0;         ///< of which at least half stays
    int plies_over_ground = 0;  ///< that reach over all the ground glass
};

[[nodiscard]] Sanding sanding_of(const Repair& repair);

/// Stacks that a laminator would shake the head at: roving straight on ground glass, two rovings
/// with no mat between, too few fresh layers left over ground glass.
///
/// @source  common practice; of mat between rovings for polyester and vinylester, not for epoxy
[[nodiscard]] Warnings layup_warnings(const Repair& repair, const Sanding& sanding);

}  // namespace tearline::quantities
