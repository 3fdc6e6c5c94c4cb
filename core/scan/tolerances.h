#pragma once

/// Numeric tolerances of scan alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] scans may lie far from their origin, in a survey's coordinates; no farther than the Earth
/// is large.
inline constexpr double largest_scanned = 1e11;

/// [mm] what is not believed reaches this far past the outline, or two spacings.
inline constexpr double scan_guard = 10.0;

/// [mm] sound skin that the base is fitted to, past the guard; or this share of the half width.
inline constexpr double scan_band = 100.0;
inline constexpr double scan_band_share = 0.7;

/// [mm] a spread of residuals is never taken for less: what exact input scatters.
inline constexpr double least_spread = 0.02;

/// [-] a place lies to one side of a surface when the way to it leans less than 78 degrees from
/// the normal.
inline constexpr double to_one_side = 0.2;

/// [-] of facets near the damage that must face one way for the scan to have a modelled side.
inline constexpr double facets_agree = 0.9;

}  // namespace tearline::tolerance
