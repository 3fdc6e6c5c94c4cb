#pragma once
#include "core/job/through.h"

namespace tearline::closing {

/// How far outside the damage the edges of a cored skin's repair lie, each on the skin it is ground
/// in [mm]; the far skin is laid first, the near one is under the hand.
struct RingStack {
    double far_scarf = 0.0;    ///< where the far skin's scarf comes out; 0 where that skin is whole
    double core_bottom = 0.0;  ///< core taken away on the far skin
    double core_top = 0.0;     ///< and under the near skin
    double near_scarf = 0.0;   ///< where the near skin's scarf comes out
};

/// [mm] of the far skin that has to be free of core, whatever its scarf.
/// @source  a sailplane repair manual, seen (SOURCES.md section 12)
inline constexpr double least_free_skin = 20.0;

/// Core that is wet is taken away to its margin beyond the last wet place, too.
/// @param reaches  the farthest layer that is damaged
/// @param far, near  [mm] thickness of the skins
/// @param ratio      [-] of both scarfs
/// @source  derived: R far, then the guard, k core, R near (SOURCES.md section 12)
[[nodiscard]] RingStack ring_stack(job::Reaches reaches, job::Side side, const job::Core& core,
                                   double ratio);

/// The far skin's thickness, seen from the face laid from [mm], and the near one's.
[[nodiscard]] double far_skin(const job::Core& core, job::Side side);
[[nodiscard]] double near_skin(const job::Core& core, job::Side side);

/// Whether the skin on the far side of the core is damaged, and whether the core is.
[[nodiscard]] bool reaches_far_skin(job::Reaches reaches, job::Side side);
[[nodiscard]] bool reaches_core(job::Reaches reaches, job::Side side);

}  // namespace tearline::closing
