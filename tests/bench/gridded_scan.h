#pragma once
#include <cmath>
#include <vector>

#include "core/scan/fair_surface.h"
#include "tests/bench/hole_filling.h"
#include "tests/support/scanned_shapes.h"

/// A scan as CGAL's hole filling and the fair surface both take it, and how far off either is.
namespace tearline::scanned {

/// The points of scan_of() joined to facets but for those that reach into a disc about the middle.
///
/// @param hole  [mm] radius
inline test::Facets with_hole(const std::vector<Vec3>& points, const Scanner& by, double hole) {
    std::vector<double> along;  // as scan_of() goes
    for (double u = -by.half; u <= by.half; u += by.spacing) along.push_back(u);
    const std::size_t side = along.size();
    std::vector<std::int32_t> number(points.size(), -1);
    test::Facets facets;
    const auto corner = [&](std::size_t i, std::size_t k) {
        std::int32_t& known = number[i * side + k];
        if (known < 0) {
            known = static_cast<std::int32_t>(facets.points.size());
            facets.points.push_back(points[i * side + k]);
        }
        return known;
    };
    for (std::size_t i = 0; i + 1 < side; ++i)
        for (std::size_t k = 0; k + 1 < side; ++k) {
            const double u = along[i] + 0.5 * by.spacing, v = along[k] + 0.5 * by.spacing;
            if (std::hypot(u, v) < hole) continue;
            const auto a = corner(i, k), b = corner(i + 1, k), c = corner(i + 1, k + 1),
                       d = corner(i, k + 1);
            facets.triangles.push_back({a, b, c});
            facets.triangles.push_back({a, c, d});
        }
    return facets;
}

/// How far a place lies off a shape, along its normal, by Newton's steps from a guess.
inline double off_shape(const Shape& shape, const Vec3& place, const Vec2& guess) {
    Vec3 at(guess.x(), guess.y(), 0.0);  // two parameters, and how far out
    constexpr double step = 0.01;
    for (int round = 0; round < 20; ++round) {
        const Vec2 uv(at.x(), at.y());
        const Vec3 here = shape(uv, at.z());
        Eigen::Matrix3d slope;
        slope.col(0) = (shape(uv + Vec2(step, 0), at.z()) - here) / step;
        slope.col(1) = (shape(uv + Vec2(0, step), at.z()) - here) / step;
        slope.col(2) = (shape(uv, at.z() + step) - here) / step;
        const Vec3 move = slope.inverse() * (place - here);
        at += move;
        if (move.norm() < 1e-9) break;
    }
    return at.z();
}

/// How far off something is in the middle of a hole, and all over it [mm].
struct OverHole {
    double middle = 0.0, rms = 0.0;
};

/// @param points  of a patch that fills the hole
inline OverHole off_over_hole(const Shape& shape, const std::vector<Vec3>& points, double hole) {
    const Vec3 middle = shape({0, 0}, 0.0);
    const Vec3 u = (shape({1, 0}, 0.0) - middle).normalized();
    const Vec3 v = (shape({0, 1}, 0.0) - middle).normalized();
    OverHole off;
    double nearest = hole, squares = 0.0;
    int count = 0;
    for (const Vec3& p : points) {
        const Vec2 guess((p - middle).dot(u), (p - middle).dot(v));
        if (guess.norm() > hole) continue;
        const double here = off_shape(shape, p, guess);
        squares += here * here;
        ++count;
        if (guess.norm() >= nearest) continue;
        nearest = guess.norm();
        off.middle = std::abs(here);
    }
    off.rms = std::sqrt(squares / std::max(1, count));
    return off;
}

/// The same of a fair surface, at the same places.
inline OverHole off_over_hole(const Shape& shape, const std::vector<Vec3>& points, double hole,
                              const scan::FairSurface& surface) {
    std::vector<Vec3> feet;
    for (const Vec3& p : points) feet.push_back(surface.point(surface.base.foot(p).uv));
    return off_over_hole(shape, feet, hole);
}

/// What the fair surface is asked for about such a hole.
inline scan::FairRequest request_about(const Shape& shape, const Scanner& by, double hole) {
    scan::FairRequest request;
    request.middle = shape({0, 0}, 0.0);
    request.outward = shape({0, 0}, 1.0) - request.middle;
    request.outline = ring(shape, hole - 10.0);  // with its guard the hole
    request.reach = 0.95 * by.half;
    request.spacing = by.spacing;
    request.least_noise = {std::max(by.spread, 0.1), by.correlation};  // of kind light, at least
    return request;
}

}  // namespace tearline::scanned
