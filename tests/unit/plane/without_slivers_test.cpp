#include "core/plane/without_slivers.h"

#include <gtest/gtest.h>

namespace tearline::plane {
namespace {

/// A square of two triangles, and beside it a triangle that touches it at one corner.
PlaneMesh square_and(double high) {
    PlaneMesh mesh;
    mesh.points = {{10, 0}, {10.2, 0}, {10.1, high}, {0, 0}, {10, 10}, {0, 10}};
    mesh.fixed = 5;
    mesh.triangle = {{0, 1, 2}, {3, 0, 4}, {3, 4, 5}};
    mesh.neighbour = {{-1, -1, -1}, {-1, -1, 2}, {1, -1, -1}};
    mesh.kind.resize(3);
    return mesh;
}

TEST(WithoutSlivers, WhatHangsByNoEdgeAndHoldsNothingGoes) {
    const PlaneMesh mesh = without_slivers(square_and(0.5), 1.0);
    ASSERT_EQ(mesh.triangle.size(), 2u);
    EXPECT_EQ(mesh.points.size(), 4u);
    EXPECT_EQ(mesh.fixed, 3u);
    // The same two triangles by their corners, neighbours still.
    double area = 0.0;
    for (const auto& t : mesh.triangle) {
        const Vec2 a = mesh.points[t[1]] - mesh.points[t[0]],
                   b = mesh.points[t[2]] - mesh.points[t[0]];
        area += 0.5 * (a.x() * b.y() - a.y() * b.x());
    }
    EXPECT_DOUBLE_EQ(area, 100.0);
    EXPECT_EQ(mesh.neighbour[0][2], 1);
    EXPECT_EQ(mesh.neighbour[1][0], 0);
}

TEST(WithoutSlivers, WhatIsClothStays) {
    EXPECT_EQ(without_slivers(square_and(40.0), 1.0).triangle.size(), 3u);
}

TEST(KeptTriangles, BorderOnTheOutlineWhereTheOthersWere) {
    const PlaneMesh mesh = kept_triangles(square_and(40.0), {true, true, false});
    ASSERT_EQ(mesh.triangle.size(), 2u);
    EXPECT_EQ(mesh.points.size(), 5u);  // the far corner of the square is gone
    EXPECT_EQ(mesh.neighbour[1][2], -1);
    EXPECT_EQ(mesh.kind[1][2], EdgeKind::outline);
    EXPECT_EQ(mesh.kind[1][0], EdgeKind::free);  // as it was
}

}  // namespace
}  // namespace tearline::plane
