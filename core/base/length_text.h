#pragma once
#include <string>

#include "core/base/units.h"
#include "core/base/vec.h"

namespace tearline {

/// A length as its reader takes it off a rule or a tape.
///
/// Metric: so many decimals of a mm. US: below 1/8 in thousandths, which a gauge shows; below 6 in
/// the nearest 1/32, beyond it the nearest 1/16, as a steel rule and a tape are marked (common
/// practice).
///
/// @param mm        [mm]
/// @param decimals  of a mm
[[nodiscard]] std::string length_text(double mm, int decimals, Units units);

/// The same without the unit, for columns whose head names it.
[[nodiscard]] std::string length_figure(double mm, int decimals, Units units);

/// A thickness of laminate as a caliper shows it: decimals of a mm, or thousandths of an inch.
///
/// @param mm        [mm]
/// @param decimals  of a mm
[[nodiscard]] std::string thickness_text(double mm, int decimals, Units units);

/// A place on the hull as messages name it, "(1.0, -20.5, 300.0)", in mm.
[[nodiscard]] std::string place_text(const Vec3& place);

/// "mm" or "in".
[[nodiscard]] std::string length_unit(Units units);

/// The rule by which inches are rounded, for a sheet that shows them.
inline constexpr const char* inch_rule =
    "Inches: below 1/8 in thousandths, below 6 in the nearest 1/32, beyond it the nearest 1/16; "
    "depths and thicknesses in thousandths.";

}  // namespace tearline
