#pragma once

/// Numeric tolerances of formats alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] two points of a cutter's line nearer than this are one: files hold steps of 1e-4 mm, and
/// machines stumble over points that lie on each other.
inline constexpr double cutter_same_point = 1e-3;

/// [-] tangent of a quarter of an arc's angle up to which a run of points becomes one arc: below a
/// half turn (1) its middle is told apart from its chord without doubt.
inline constexpr double arc_bulge = 0.4;

/// [-] of the last digit: nearer to a half than this a product of doubles, which rounding moves by
/// less than a tenth of it, does not tell which way a number is rounded.
inline constexpr double nearly_half = 1e-3;

}  // namespace tearline::tolerance
