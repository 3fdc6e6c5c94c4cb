#pragma once

/// Numeric tolerances of plan alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] crease warnings of several plies this near to each other are told once.
inline constexpr double same_crease = 150.0;

}  // namespace tearline::tolerance
