#pragma once
#include <cmath>

#include "tests/support/analytic_meshes.h"

/// Doubly curved shapes as hulls have them, without a closed form: for comparing and timing.
namespace tearline::test {

/// A figure raised to a space shape; edge lengths are the chords.
inline surface::SurfaceMesh on_graph(const PlaneMesh& figure, Vec3 (*shape)(const Vec2&)) {
    return on_surface(figure,
                      {shape, [](const Vec2&) { return Vec3(0.0, 0.0, 1.0); },
                       [=](const Vec2& a, const Vec2& b) { return (shape(a) - shape(b)).norm(); }});
}

/// Hollow one way and bulging the other, radius 400 mm: a flared bow.
inline Vec3 saddle_shape(const Vec2& p) {
    return {p.x(), p.y(), (p.x() * p.x() - p.y() * p.y()) / 800.0};
}

/// A bilge: two flats joined by a 40 mm radius over 80 degrees, swept along an arc of 900 mm.
inline Vec3 bilge_shape(const Vec2& p) {
    const double radius = 40.0, sweep = 900.0, half = 40.0 * std::numbers::pi / 180.0;
    const double turn = std::clamp(p.x() / radius, -half, half);
    const double rest = p.x() - radius * turn;
    const double x = radius * std::sin(turn) + rest * std::cos(turn);
    const double z = radius * std::cos(turn) - rest * std::sin(turn);
    const double along = p.y() / sweep;
    return {x, (sweep + z) * std::sin(along), (sweep + z) * std::cos(along) - sweep};
}

/// Waves of 20 mm: an old, often mended side.
inline Vec3 bumpy_shape(const Vec2& p) {
    return {p.x(), p.y(), 20.0 * std::sin(p.x() / 60.0) * std::cos(p.y() / 50.0)};
}

}  // namespace tearline::test
