#pragma once
#include <span>
#include <vector>

#include "core/base/result.h"
#include "core/damage/openings.h"
#include "core/dish/offset_sweep.h"
#include "core/surface/patch.h"

namespace tearline::plies {

/// Lines at given distances round an opening: the edges of the plies' holes.
struct OpeningLevels {
    dish::OffsetSweep sweep;        ///< from its edge
    std::vector<double> distance;   ///< [mm] ascending, from 0
    std::vector<Loop2> loop;        ///< [mm] in the chart, counter-clockwise: one for each
    std::vector<bool> at_hull_end;  ///< whether it is cut by the hull's end

    /// @param asked  one of `distance`
    [[nodiscard]] const Loop2& at(double asked) const;
};

/// @param distances  [mm] >= 0, in any order
/// @error no_safe_answer  the patch does not reach far enough round it
[[nodiscard]] Result<OpeningLevels> opening_levels(const surface::Patch& patch,
                                                   const damage::KeptOpening& opening,
                                                   std::span<const double> distances);

}  // namespace tearline::plies
