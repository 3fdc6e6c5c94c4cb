#pragma once
#include "core/base/result.h"
#include "core/job/job.h"

namespace tearline::ground {
struct Ground;
}

namespace tearline::quantities {

/// What there is to fill in a dish that was measured.
struct DishVolumes {
    double dish_mL = 0.0;
    double laminate_mL = 0.0;  ///< of it, filled by plies
    double fairing_mL = 0.0;   ///< of it, left to filler
    double proud_mL = 0.0;     ///< laminate above the base surface, sanded off
    double proud_max_mm = 0.0;
    double deepest_mm = 0.0;  ///< as measured; half way through, of what is left of it
};

/// What there is to fill in a dish, and how proud its plies end with their torn bands: from its
/// depth field.
[[nodiscard]] Result<DishVolumes> dish_volumes(const job::Job& job, const ground::Ground& ground);

}  // namespace tearline::quantities
