#pragma once
#include "core/base/quantity.h"

namespace tearline::quantities {

/// How far above the dew point a surface is kept before anything is laid on it [C].
/// @source common practice
inline constexpr double least_above_dew_point = 3.0;

/// The temperature at which air of some humidity lets go of its water.
///
/// @param air       [C] -45 to 60
/// @param humidity  relative, (0, 100]
/// @source  Magnus' formula over water with 17.62 and 243.12 C, as in the WMO guide to instruments
///          (WMO-No. 8), from memory; solved for the temperature
[[nodiscard]] Celsius dew_point(Celsius air, Percent humidity);

}  // namespace tearline::quantities
