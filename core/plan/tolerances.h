#pragma once

/// Numeric tolerances of plan alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] crease warnings of several plies this near to each other are told once.
inline constexpr double same_crease = 150.0;

/// [mm] a surface that misses one of the figures it was drawn from by more than this is warned of:
/// readings are good to half a millimetre.
inline constexpr double measured_miss = 1.0;

/// [mm] a roll for sheets of any width: nothing that is laid flat is larger.
inline constexpr double largest_piece = 1e5;

/// [mm] a line is made so wide to be a region, which has an outside.
inline constexpr double line_sliver = 1e-3;

/// [1/mm] curvatures that differ by less bend a plug alike every way: 0.05 mm over 200 mm.
inline constexpr double bends_alike = 1e-5;

/// [-] strips are counted as if rolls were so many times as wide: charts of hulls are true to a few
/// in a hundred.
inline constexpr double strip_in_chart = 1.15;

}  // namespace tearline::tolerance
