#pragma once

/// Numeric tolerances of remesh alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [-] sine by which two opposite angles must exceed 180 degrees before an edge is flipped: four
/// corners on one circle would flip to and fro for ever.
inline constexpr double delaunay = 1e-9;

/// [-] of the wished length, after the usual remeshing rule: a longer edge is split, and none is
/// made by a collapse.
inline constexpr double longest_edge = 4.0 / 3.0;

/// [mm] chords of the hull's own end, a hole's edge above all, follow its curve to this.
inline constexpr double end_chord = 0.02;

/// [-] sine between two edges of a triangle below which it has no area and no direction.
inline constexpr double no_area = 1e-9;

}  // namespace tearline::tolerance
