#pragma once
#include "core/base/us_constants.h"

/// The grid that a PDF is painted on.
namespace tearline::paper {

inline constexpr int dots_per_inch = 1200;  ///< gives the cleanest matrix
inline constexpr double units_per_mm = dots_per_inch / us::mm_per_inch;

}  // namespace tearline::paper
