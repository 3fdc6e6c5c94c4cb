#pragma once

/// Numeric tolerances of variants alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [-] figures of two variants that differ by less, as a part of them, are the same: so far two
/// machines agree in areas and masses.
inline constexpr double same_figure = 1e-5;
/// [in the figure's own unit: m2, g, h, -, deg] and less than this is nothing: the rounding of cloth
/// that lies flat.
inline constexpr double no_figure = 1e-6;

}  // namespace tearline::tolerance
