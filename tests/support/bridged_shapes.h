#pragma once
#include <Eigen/Geometry>
#include <Eigen/LU>
#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include "core/scan/fair_surface.h"
#include "tests/support/scanned_shapes.h"

/// Holes in scans of known shapes, and how far off they are bridged.
namespace tearline::scanned {

constexpr double bridged_radius = 140.0;  ///< [mm] of the outline; with its guard 150

/// The shapes that bars of noise are over: plane, sphere, cylinder, saddle, torus off its equator,
/// bilge.
inline std::vector<Shape> six_shapes() {
    return {arcs(0, 0),
            arcs(1 / 750.0, 1 / 750.0),
            arcs(0, 1 / 300.0),
            arcs(1 / 900.0, -1 / 700.0),
            arcs(1 / 1500.0, 1 / 400.0, 20.0),
            bilge(1 / 2000.0, 1 / 250.0, 400.0)};
}

inline scan::FairRequest request_for(const Shape& shape, const Scanner& by) {
    scan::FairRequest request;
    request.middle = shape({0, 0}, 0.0);
    request.outward = shape({0, 0}, 1.0) - request.middle;
    request.outline = ring(shape, bridged_radius);
    request.reach = 270.0;
    request.spacing = by.spacing;
    request.least_noise = {std::max(by.spread, 0.1), by.correlation};  // of kind light, at least
    return request;
}

/// Which points of scan_of() lie in the hole with its guard.
inline std::vector<bool> in_hole(const Shape& shape, const std::vector<Vec3>& points) {
    const Vec3 middle = shape({0, 0}, 0.0);
    std::vector<bool> all;
    for (const Vec3& p : points) all.push_back((p - middle).norm() < bridged_radius + 10.0);
    return all;
}

/// How far outside the shape's middle some triangles cross its normal [mm].
inline std::optional<double> height_in_middle(const Shape& shape,
                                              const std::vector<std::array<Vec3, 3>>& triangles) {
    const Vec3 middle = shape({0, 0}, 0.0), way = shape({0, 0}, 1.0) - middle;
    for (const auto& [a, b, c] : triangles) {
        Eigen::Matrix3d sides;
        sides << b - a, c - a, -way;
        if (!(std::abs(sides.determinant()) > 0.0)) continue;
        const Vec3 at = sides.inverse() * (middle - a);
        if (at.x() >= 0.0 && at.y() >= 0.0 && at.x() + at.y() <= 1.0) return at.z();
    }
    return std::nullopt;
}

}  // namespace tearline::scanned
