#pragma once

/// Numeric tolerances of page alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [-] of the largest spread of a cell's planes: what is flatter places no corner.
inline constexpr double flat_cell = 1e-3;

/// [-] of a model's diagonal: no cell is smaller, so that a grid has two million of them a side at
/// most.
inline constexpr double least_cell = 1e-6;

}  // namespace tearline::tolerance
