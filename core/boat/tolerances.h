#pragma once

/// Numeric tolerances of boats alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] two places this near to one another meet: the sag of the triangles between which a point of
/// the surface is looked for, and a pencil line.
inline constexpr double places_meet = 1.0;

}  // namespace tearline::tolerance
