#include "core/plan/coarse_view.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>

#include "core/hull/hull.h"

namespace tearline::plan {
namespace {

constexpr double side = 1000.0;  // [mm]

/// A flat square sheet of n by n cells in z = 5, facing +z.
hull::Hull sheet(int n) {
    hull::Hull hull;
    for (int i = 0; i <= n; ++i)
        for (int j = 0; j <= n; ++j) hull.vertices.emplace_back(side * i / n, side * j / n, 5.0);
    const auto at = [n](int i, int j) { return i * (n + 1) + j; };
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < n; ++j) {
            hull.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
            hull.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
        }
    return hull;
}

TEST(CoarseView, OfASmallHullIsTheHull) {
    const hull::Hull hull = sheet(4);
    const HullView view = coarse_view(hull, 32);
    EXPECT_EQ(view.far_vertices, hull.vertices);
    EXPECT_EQ(view.far_triangles, hull.triangles);
}

TEST(CoarseView, OfALargeOneIsTheSameSheetInFewTriangles) {
    const HullView view = coarse_view(sheet(80), 1000);
    EXPECT_LE(view.far_triangles.size(), 1000u);
    EXPECT_GE(view.far_triangles.size(), 400u);  // two a cell of twice the mean triangle's area
    double area = 0.0;
    for (const auto& t : view.far_triangles) {
        const Vec3 twice = (view.far_vertices[t[1]] - view.far_vertices[t[0]])
                               .cross(view.far_vertices[t[2]] - view.far_vertices[t[0]]);
        EXPECT_GT(twice.z(), 0.0) << "none is turned over";
        area += 0.5 * twice.z();
    }
    // By hand: the middles of the outermost cells lie up to half a cell of sqrt(2 x 10^6/1000) = 45
    // mm inside: at the least (1 - 0.045)^2 of the square.
    EXPECT_GT(area, 0.91 * side * side);
    EXPECT_LE(area, side * side);
    for (const Vec3& p : view.far_vertices) EXPECT_EQ(p.z(), 5.0) << "a mean of the sheet's points";
}

}  // namespace
}  // namespace tearline::plan
