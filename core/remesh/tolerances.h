#pragma once

/// Numeric tolerances of remesh alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [-] sine by which two opposite angles must exceed 180 degrees before an edge is flipped: four
/// corners on one circle would flip to and fro for ever.
inline constexpr double delaunay = 1e-9;

/// [-] of the wished length, after the usual remeshing rule: a longer edge is split, and none is
/// made by a collapse.
inline constexpr double longest_edge = 4.0 / 3.0;

/// [mm] chords of the hull's own end and of creases follow their curve to this: a hole's edge and a
/// tube's foot above all. What crosses a crease sets out from its chord: net lines beyond it lie
/// too near by as much.
inline constexpr double kept_chord = 0.02;

/// [-] sine between two edges of a triangle below which it has no area and no direction.
inline constexpr double no_area = 1e-9;

}  // namespace tearline::tolerance
