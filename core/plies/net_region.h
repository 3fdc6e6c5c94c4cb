#pragma once
#include <span>
#include <vector>

#include "core/base/outline.h"
#include "core/damage/damage_outline.h"
#include "core/dish/offset_sweep.h"
#include "core/surface/patch.h"

namespace tearline::plies {

/// Where the geodesic distance outside the damage outline is at most `offset`.
struct NetRegion {
    double offset = 0.0;
    std::vector<Region2> chart;    ///< [mm] in the patch's chart; several when the set falls apart
    std::vector<Region3> on_base;  ///< [mm] the same loops on the base surface
    bool cut_at_hull_end = false;
};

/// The net regions of all offsets from one sweep of geodesics off the outline.
///
/// @param offsets  [mm] ascending, >= 0
/// @error no_safe_answer  the patch does not reach far enough, or the region winds round a tube
[[nodiscard]] Result<std::vector<NetRegion>> net_regions(const surface::Patch& patch,
                                                         const damage::DamageOutline& outline,
                                                         std::span<const double> offsets);

/// The same from a sweep that is there already.
/// @param offsets  [mm] ascending, each one of those the sweep was asked for
[[nodiscard]] Result<std::vector<NetRegion>> net_regions(const surface::Patch& patch,
                                                         const dish::OffsetSweep& sweep,
                                                         std::span<const double> offsets);

/// A region without what lies inside some loops.
///
/// @param loops  [mm] in the chart, counter-clockwise
[[nodiscard]] NetRegion without(const surface::Patch& patch, const NetRegion& region,
                                const std::vector<Loop2>& loops);

}  // namespace tearline::plies
