#pragma once

namespace tearline::closing {

/// Whether an oval backing goes through its own hole: edge first along the short way of the hole,
/// then turned a quarter.
///
/// @param length, width  [mm] full axes of the hole, length >= width
/// @param lap            [mm] of the backing beyond the hole
/// @param thick          [mm] of the backing with its rise
/// @source  derived: ((width + 2 lap) / length)^2 + (thick / width)^2 <= 1 (SOURCES.md section 12)
[[nodiscard]] bool passes_hole(double length, double width, double lap, double thick);

/// How long a hole of a width has to be for its backing to pass [mm]; infinite where none will do.
[[nodiscard]] double least_length(double width, double lap, double thick);

/// To which radius a sheet has to be rolled to go through a round or too short hole: its roll just
/// fits the hole [mm].
[[nodiscard]] double roll_radius(double length, double width, double thick);

}  // namespace tearline::closing
