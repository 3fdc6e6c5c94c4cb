#pragma once

/// Numeric tolerances of page alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [-] of the largest spread of a cell's planes: what is flatter places no corner.
inline constexpr double flat_cell = 1e-3;

/// [-] of a model's diagonal: no cell is smaller, so that a grid has two million of them a side at
/// most.
inline constexpr double least_cell = 1e-6;

/// [mm] facets of a CAD hull are split until their middles lie no farther off its faces: a point
/// picked on a page is nearer than a finger or a tape can tell.
inline constexpr double off_the_faces = 0.05;

/// [-] of a facet's longest side: a parameter that moves a corner by less over the whole facet does
/// not say where it is, as at the pole of a sphere.
inline constexpr double standstill = 1e-6;

}  // namespace tearline::tolerance
