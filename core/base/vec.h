#pragma once
#include <Eigen/Core>
#include <Eigen/Geometry>  // cross products

namespace tearline {

using Vec2 = Eigen::Vector2d;  ///< [mm] unless stated
using Vec3 = Eigen::Vector3d;  ///< [mm] unless stated

/// z component of the cross product of two plane vectors.
inline double cross2(const Vec2& a, const Vec2& b) {
    return a.x() * b.y() - a.y() * b.x();
}

/// The vector turned a quarter turn counter-clockwise.
inline Vec2 turned_left(const Vec2& a) {
    return {-a.y(), a.x()};
}

}  // namespace tearline
