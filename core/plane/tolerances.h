#pragma once

/// Numeric tolerances of plane alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] steps of Clipper's integer grid: a tenth of the 1e-4 mm that outlines are kept to.
inline constexpr double clipper_grid = 1e-5;

/// [mm] how far the rounded corner of a tear line may lie inside the true arc (issue: 0.01).
inline constexpr double tear_rounding = 0.005;

/// [mm] spikes of a net line narrower than this are no part of it: a tenth of a knife's edge.
inline constexpr double spike_width = 0.005;

/// [mm] outlines are this coarse, on the safe side, while they are nested: a fifth of the gap.
inline constexpr double nest_coarseness = 1.0;

/// [mm] the same for hollow shapes, whose no-fit polygons cost the product of their points.
inline constexpr double nest_hollow_coarseness = 4.0;

}  // namespace tearline::tolerance
