#pragma once
#include <gtest/gtest.h>

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

}  // namespace tearline::test
