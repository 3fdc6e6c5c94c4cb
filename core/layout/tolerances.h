#pragma once

/// Numeric tolerances of layout alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [-] tangent of a quarter of an arc's angle below which a line of a DXF file is straight.
inline constexpr double straight_bulge = 1e-9;

/// [-] of the distance from the origin: ends of lines in a DXF file that are the same but for the
/// digits it is written with.
inline constexpr double dxf_digits = 1e-6;

}  // namespace tearline::tolerance
