#pragma once
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "core/surface/surface_mesh.h"

namespace tearline::test {

/// Every directed edge has one triangle, and the free edges make simple loops through each vertex.
inline void expect_manifold(const surface::SurfaceMesh& mesh) {
    std::map<std::pair<std::int32_t, std::int32_t>, int> uses;
    for (const auto& v : mesh.triangle)
        for (int i = 0; i < 3; ++i) ++uses[{v[i], v[(i + 1) % 3]}];
    std::map<std::int32_t, int> leaving;
    for (const auto& [edge, count] : uses) {
        EXPECT_EQ(count, 1) << "edge " << edge.first << " " << edge.second;
        if (!uses.contains({edge.second, edge.first})) ++leaving[edge.first];
    }
    for (const auto& [vertex, count] : leaving) EXPECT_EQ(count, 1) << "vertex " << vertex;
}

/// Area by the arc lengths of the edges (Heron's formula) [mm2]: a route without positions.
inline double intrinsic_area(const surface::SurfaceMesh& mesh) {
    double total = 0.0;
    for (const auto& l : mesh.edge_length) {
        const double s = 0.5 * (l[0] + l[1] + l[2]);
        total += std::sqrt(std::max(0.0, s * (s - l[0]) * (s - l[1]) * (s - l[2])));
    }
    return total;
}

/// Area of the flat facets [mm2].
inline double facet_area(const surface::SurfaceMesh& mesh) {
    double twice = 0.0;
    for (const auto& v : mesh.triangle) {
        const Vec3& corner = mesh.position[v[0]];
        twice += (mesh.position[v[1]] - corner).cross(mesh.position[v[2]] - corner).norm();
    }
    return 0.5 * twice;
}

}  // namespace tearline::test
