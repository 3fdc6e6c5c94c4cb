#pragma once

namespace tearline::closing {

/// What a dish with a straight scarf holds [mm3], by how its area grows: quadratic in the offset,
/// as on every developable face; nearly so on others.
///
/// @param depth      [mm]
/// @param width      [mm] of the scarf
/// @param floor      [mm2] inside the damage outline, and its perimeter [mm]
/// @param ground     [mm2] inside the scarf's edge
/// @source  Steiner's formula integrated over the depth; a disc gives the frustum
[[nodiscard]] double dish_volume(double depth, double width, double floor, double perimeter,
                                 double ground);

}  // namespace tearline::closing
