#pragma once
#include <cmath>
#include <numbers>
#include <string>

#include "tests/support/mesh_files.h"

namespace tearline::test {

/// A 6 m hull of round sections as a scanner would give it: a binary STL of about as many facets
/// as asked for, nearly square cells, no noise. Radius 1100 aft, 440 forward; lower half.
inline std::string scan_stl(std::size_t facets) {
    constexpr double length = 6000.0, aft = 1100.0, narrowing = 0.6;
    const double cells = static_cast<double>(facets) / 2.0;
    const double girth = std::numbers::pi * aft * (1.0 - narrowing / 4.0);
    const int along = static_cast<int>(std::lround(std::sqrt(cells * length / girth)));
    const int round = static_cast<int>(std::lround(cells / along));
    return stl_binary(grid(round, along, [&](double u, double v) {
        const double angle = std::numbers::pi * (1.0 + u);
        const double radius = aft * (1.0 - narrowing * v * v * v);
        return Vec3(length * v, radius * std::cos(angle), radius * std::sin(angle));
    }));
}

}  // namespace tearline::test
