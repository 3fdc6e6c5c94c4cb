#include "core/surface/intrinsic.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace tearline::surface {

Vec2 third_corner(const Vec2& a, const Vec2& b, double bc, double ca) {
    const Vec2 ab = b - a;
    const double c = ab.norm();
    if (!(c > 0.0)) return a;
    const double x = (c * c + ca * ca - bc * bc) / (2.0 * c);
    const double y = std::sqrt(std::max(ca * ca - x * x, 0.0));
    const Vec2 e = ab / c;
    return a + x * e + y * turned_left(e);
}

FlatTriangle lay_flat(const std::array<double, 3>& length) {
    const Vec2 a(0, 0);
    const Vec2 b(length[0], 0);
    return {a, b, third_corner(a, b, length[1], length[2])};
}

Vec3 weight_rates(const FlatTriangle& flat, const Vec2& direction) {
    const Vec2 e1 = flat[1] - flat[0];
    const Vec2 e2 = flat[2] - flat[0];
    const double twice = cross2(e1, e2);
    const double w1 = cross2(direction, e2) / twice;
    const double w2 = cross2(e1, direction) / twice;
    return {-w1 - w2, w1, w2};
}

Vec3 carry_over(const Vec3& direction, const Vec3& from, const Vec3& to) {
    // Rodrigues with axis from x to; 1 + cos in place of a division by sin^2.
    const Vec3 axis = from.cross(to);
    const double c = from.dot(to);
    if (!(1.0 + c > 0.0)) return direction;
    return c * direction + axis.cross(direction) + axis * (axis.dot(direction) / (1.0 + c));
}

}  // namespace tearline::surface
