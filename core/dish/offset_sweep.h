#pragma once
#include <span>
#include <vector>

#include "core/base/result.h"
#include "core/damage/damage_outline.h"
#include "core/dish/swept_ray.h"

namespace tearline::dish {

/// Rays side by side: all round the damage outline, or the fan of a place that the outline's own
/// rays do not see (behind an opening or a corner of the hull's end).
struct Front {
    std::vector<SweptRay> rays;  ///< counter-clockwise
    Vec2 source{0, 0};           ///< [mm] of a fan
    double start = 0.0;          ///< [mm] distance of the source outside the outline
    bool closed = true;          ///< the last ray is beside the first; else a sector at the source
};

/// Geodesics run out from the damage outline to all distances at once: what net lines, the dish's
/// depth and distances are read from.
struct OffsetSweep {
    std::vector<double> stations;  ///< [mm] ascending, from 0 to the farthest asked
    std::vector<Front> fronts;     ///< the outline's own first
    Loop2 outline;                 ///< [mm] the damage outline in the chart
};

struct SweepOptions {
    double spacing = 4.0;       ///< [mm] neighbouring rays end no farther apart
    double sagitta = 0.01;      ///< [mm] the front's arc leaves the chord between rays no farther
    double station_step = 8.0;  ///< [mm] between stations that no offset asks for
};

/// Sweeps out from a damage outline.
///
/// @param offsets  [mm] ascending, >= 0; each becomes a station
[[nodiscard]] OffsetSweep sweep_offsets(const surface::Patch& patch,
                                        const damage::DamageOutline& outline,
                                        std::span<const double> offsets,
                                        const SweepOptions& options = {});

/// The curve that a front's rays reach at a distance, in the chart: closed, with overlaps, right
/// where its winding number is positive.
///
/// @param offset  [mm] one of the stations
[[nodiscard]] Loop2 raw_front(const OffsetSweep& sweep, const Front& front, double offset);

}  // namespace tearline::dish
