#pragma once
#include <optional>

#include "core/job/through.h"

namespace tearline::closing {

// Ours, no source.
inline constexpr double sheet_strain = 0.003;  ///< [-] a sheet goes on in one piece up to this
inline constexpr double petals_strain = 0.02;  ///< [-] and cut into petals up to this

/// [mm] sheets are preformed where the surface bends tighter: it rises over 1/8 in in 6 in.
/// @source  FAA AC 43.13-1B p. 1-31; the radius is derived from it (SOURCES.md section 12)
inline constexpr double preformed_below = 916.0;

/// What closes a hole: as asked, or by how far a flat sheet has to strain to lie on the far face.
[[nodiscard]] job::BackingKind backing_kind(job::BackingKind asked, double strain);

/// Rim strain of a flat sheet pressed on a sphere: r^2 / 8 R^2.
/// @param radius  [mm] of the sheet with its lap
/// @source  derived (SOURCES.md section 12)
[[nodiscard]] double sphere_strain(double radius, double sphere);

/// The tightest radius that plywood of a thickness is bent to cold, across the grain [mm]; between
/// the rows by proportion, none outside the table.
/// @source  FAA AC 43.13-1B table 1-2: 1.8, 3.2, 4.8 mm to 132, 305, 533 mm
[[nodiscard]] std::optional<double> plywood_radius(double thickness);

}  // namespace tearline::closing
