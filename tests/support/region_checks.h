#pragma once
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>

#include "core/plies/mesh_region.h"
#include "tests/support/loops.h"

/// Measures of plane loops and region meshes, for tests.
namespace tearline::test {

/// Smallest angle of the triangles in the chart [deg].
inline double smallest_angle(const plies::RegionMesh& m) {
    double smallest = std::numbers::pi;
    for (const auto& t : m.mesh.triangle)
        for (int i = 0; i < 3; ++i) {
            const Vec2 u = m.chart[t[(i + 1) % 3]] - m.chart[t[i]];
            const Vec2 v = m.chart[t[(i + 2) % 3]] - m.chart[t[i]];
            smallest = std::min(smallest, std::atan2(cross2(u, v), u.dot(v)));
        }
    return smallest * 180 / std::numbers::pi;
}

/// Every edge belongs to one or two triangles, and Euler's formula holds for the holes.
inline void expect_conforming(const plies::RegionMesh& m, int holes) {
    std::map<std::pair<int, int>, int> edges;
    for (const auto& t : m.mesh.triangle)
        for (int i = 0; i < 3; ++i) {
            const int a = t[i], b = t[(i + 1) % 3];
            ++edges[{std::min(a, b), std::max(a, b)}];
        }
    for (const auto& [ends, count] : edges) EXPECT_LE(count, 2);
    const auto euler = static_cast<int>(m.mesh.position.size()) - static_cast<int>(edges.size()) +
                       static_cast<int>(m.mesh.triangle.size());
    EXPECT_EQ(euler, 1 - holes);
}

inline double distance_to_segment(const Vec2& p, const Vec2& a, const Vec2& b) {
    const Vec2 u = b - a;
    const double s = std::clamp((p - a).dot(u) / u.squaredNorm(), 0.0, 1.0);
    return (p - a - s * u).norm();
}

/// Largest distance of the loop's points from the mesh's rim in the chart.
inline double farthest_from_rim(const plies::RegionMesh& m, const Loop2& loop) {
    const auto next = surface::neighbours(m.mesh);
    double worst = 0.0;
    for (const Vec2& p : loop) {
        double best = 1e300;
        for (std::size_t t = 0; t < next.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                if (next[t][i] >= 0) continue;
                const auto& v = m.mesh.triangle[t];
                best =
                    std::min(best, distance_to_segment(p, m.chart[v[i]], m.chart[v[(i + 1) % 3]]));
            }
        worst = std::max(worst, best);
    }
    return worst;
}

/// A surface developed from a flat, a quarter turn of radius R along x, and a flat: a bilge.
inline surface::SurfaceSample bilge_map(double R, const Vec2& p) {
    const double quarter = R * std::numbers::pi / 2;
    const double a = std::clamp(p.x(), 0.0, quarter) / R;
    const Vec3 n(std::sin(a), 0, std::cos(a));
    Vec3 q = R * (n - Vec3(0, 0, 1));
    if (p.x() < 0) q.x() += p.x();
    if (p.x() > quarter) q.z() -= p.x() - quarter;
    q.y() = p.y();
    return {q, n, 0.0, p.x() > 0 && p.x() < quarter ? 1 / R : 0.0};
}

}  // namespace tearline::test
