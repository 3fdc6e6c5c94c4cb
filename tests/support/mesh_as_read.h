#pragma once
#include <gtest/gtest.h>

#include <filesystem>
#include <vector>

#include "core/remesh/remesh_mesh.h"
#include "tests/support/stl_hull.h"

namespace tearline::test {

/// Facets as a patch gets them before anything is meshed anew.
inline remesh::RemeshMesh mesh_as_read(const std::vector<Vec3>& points,
                                       const std::vector<std::array<std::int32_t, 3>>& triangles) {
    remesh::RemeshMesh mesh;
    for (const Vec3& p : points) mesh.vertex.add({p, 0.0, {}});
    for (const auto& v : triangles) {
        remesh::RemeshTriangle t;
        for (int i = 0; i < 3; ++i) t.vertex[i] = VertexId(v[i]);
        mesh.triangle.add(t);
    }
    mesh.connect();
    return mesh;
}

/// What looks for scans finds none among the sample models.
template <class Find>
void expect_no_sample(Find find) {
    int samples = 0;
    for (const auto& entry : std::filesystem::directory_iterator(TEARLINE_SAMPLES)) {
        if (entry.path().extension() != ".stl") continue;
        ++samples;
        const hull::Hull hull = stl_hull(entry.path().string());
        EXPECT_FALSE(find(mesh_as_read(hull.vertices, hull.triangles), Vec3(0, 0, 0)))
            << entry.path();
    }
    EXPECT_GE(samples, 5);
}

}  // namespace tearline::test
