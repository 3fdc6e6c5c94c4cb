#pragma once
#include <array>

#include "core/surface/surface_mesh.h"

namespace tearline::surface {

/// A triangle laid in the plane with its arc lengths: corner 0 at the origin, corner 1 on +x.
using FlatTriangle = std::array<Vec2, 3>;

/// @param length  [mm] edges 0-1, 1-2, 2-0
[[nodiscard]] FlatTriangle lay_flat(const std::array<double, 3>& length);

/// Where the third corner lies, left of a -> b, from the lengths of the edges b-c and c-a.
[[nodiscard]] Vec2 third_corner(const Vec2& a, const Vec2& b, double bc, double ca);

/// Barycentric rates of a plane direction in a flat triangle; they sum to 0.
[[nodiscard]] Vec3 weight_rates(const FlatTriangle& flat, const Vec2& direction);

/// Turns `direction` with the least rotation that takes unit vector `from` to unit vector `to`.
[[nodiscard]] Vec3 carry_over(const Vec3& direction, const Vec3& from, const Vec3& to);

}  // namespace tearline::surface
