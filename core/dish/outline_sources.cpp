#include "core/dish/outline_sources.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "core/dish/tolerances.h"
#include "core/surface/locate_near.h"

namespace tearline::dish {
namespace {

/// To the right of a counter-clockwise curve: away from what it encloses.
Vec3 outward(const surface::Patch& patch, const surface::Location& at, const Vec3& tangent) {
    return tangent.cross(surface::corner_normal(patch.mesh, at));
}

}  // namespace

double OutlineSources::length(std::size_t i) const {
    return (point(i + 1).position - point(i).position).norm();
}

bool OutlineSources::is_corner(std::size_t i) const {
    const auto& p = point(i);
    return std::atan2(p.tangent_in.cross(p.tangent_out).norm(), p.tangent_in.dot(p.tangent_out)) >
           tolerance::outline_kink;
}

RayStart OutlineSources::at_point(std::size_t i) const {
    const auto& p = point(i);
    return {{p.at, outward(patch_, p.at, (p.tangent_in + p.tangent_out).normalized()), 0.0}};
}

RayStart OutlineSources::between_near(std::size_t i, double t) const {
    const auto& a = point(i);
    const auto& b = point(i + 1);
    const auto in_chart = [&](const surface::Location& at, const Vec3& tangent) {
        return surface::chart_direction(patch_, at.triangle, tangent).normalized();
    };
    const Vec2 place = (1 - t) * outline_.chart[i % size()] + t * outline_.chart[(i + 1) % size()];
    const Vec2 along = (1 - t) * in_chart(a.at, a.tangent_out) + t * in_chart(b.at, b.tangent_in);
    const surface::Location at = surface::locate_near(patch_, place).at;
    const Vec3 tangent = surface::space_direction(patch_, at.triangle, along).normalized();
    return {{at, outward(patch_, at, tangent), 0.0}};
}

RayStart OutlineSources::within(std::size_t i, double t) const {
    const auto& a = point(i);
    const auto& b = point(i + 1);
    const std::size_t next = (i + 1) % size();
    if ((outline_.chart[next] - outline_.chart[i % size()]).norm() < tolerance::no_bend)
        return between_near(i, t);
    const double chord = length(i);
    const double t2 = t * t, t3 = t2 * t;
    // A cubic with the outline's tangents: how far it leaves the chord, and its direction.
    const Vec3 m0 = chord * a.tangent_out;
    const Vec3 m1 = chord * b.tangent_in;
    const Vec3 step = b.position - a.position;
    const Vec3 off_chord = (-2 * t3 + 3 * t2 - t) * step + (t3 - 2 * t2 + t) * m0 + (t3 - t2) * m1;
    const Vec3 tangent =
        (6 * t - 6 * t2) * step + (3 * t2 - 4 * t + 1) * m0 + (3 * t2 - 2 * t) * m1;

    const Vec2 on_chord = (1 - t) * outline_.chart[i % size()] + t * outline_.chart[next];
    auto near = surface::locate_near(patch_, on_chord);
    const Vec2 shift = surface::chart_direction(patch_, near.at.triangle, off_chord);
    near = surface::locate_near(patch_, on_chord + shift);
    return {{near.at, outward(patch_, near.at, tangent.normalized()), 0.0}};
}

}  // namespace tearline::dish
