#pragma once

/// Numeric tolerances of rates alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] a surface that misses one of the figures it was drawn from by more than this is warned of:
/// readings are good to half a millimetre.
inline constexpr double measured_miss = 1.0;

}  // namespace tearline::tolerance
