#pragma once

/// Numeric tolerances of variants alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [-] figures of two variants that differ by less differ by the rounding of their sums alone.
inline constexpr double same_figure = 1e-9;

}  // namespace tearline::tolerance
