#pragma once

/// Tolerances of how an error moves an edge, of this folder and those above: name, value, unit,
/// reason.
namespace tearline::tolerance {

/// [-] one in fifty: where a dish falls by less, on its floor, a level is no line that could move.
inline constexpr double flattest_wall = 0.02;

/// [mm] between the places of a way at which it is asked how far the surface there moves.
inline constexpr double way_spacing = 20.0;

}  // namespace tearline::tolerance
