#pragma once

/// Numeric tolerances of quantities alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [C] and [%] gel data count only this near to what they were measured at (DEFINITIONS.md, Resin).
inline constexpr double gel_temperature = 2.0;
inline constexpr double gel_percent = 0.1;

/// [mm] a ply whose edge lies within this of the scarf's end reaches over all the ground glass:
/// no eye sees less, and thicknesses from data sheets are rounded to it.
inline constexpr double scarf_rim = 1.0;

}  // namespace tearline::tolerance
