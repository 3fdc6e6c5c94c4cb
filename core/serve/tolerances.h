#pragma once

/// Numeric tolerances of serve alone: name, value, unit and the reason for it.
namespace tearline::tolerance {

/// [mm] how far a point of the outline may be dragged before the hull about it is meshed anew.
inline constexpr double drag_room = 80.0;

}  // namespace tearline::tolerance
