#include "core/surface/chart.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "core/plane/crossings.h"
#include "tests/support/analytic_meshes.h"
#include "tests/support/analytic_patch.h"

namespace tearline::surface {
namespace {

void expect_injective(const SurfaceMesh& mesh, const std::vector<Vec2>& chart) {
    ASSERT_EQ(chart.size(), mesh.position.size());
    for (const auto& t : mesh.triangle)
        ASSERT_GT(cross2(chart[t[1]] - chart[t[0]], chart[t[2]] - chart[t[0]]), 0.0);
}

TEST(Chart, UnrollsDevelopablesWithoutStretch) {
    for (const auto& map : {test::cylinder_map(100), test::cone_map(200, 0.26)}) {
        const Patch patch = test::analytic_patch(map, test::within_disc(120), 120, 8);
        const auto chart = make_chart(patch.mesh);
        expect_injective(patch.mesh, chart);
        const ChartQuality quality = chart_quality(patch.mesh, chart);
        EXPECT_NEAR(quality.least_stretch, 1.0, 2e-3);
        EXPECT_NEAR(quality.most_stretch, 1.0, 2e-3);
    }
}

TEST(Chart, LaysMoreThanAHemisphereWithoutFolds) {
    // Seen from any direction this cap hides its own rim: the best plane folds it.
    const Patch patch = test::analytic_patch(test::sphere_map(100), test::within_disc(200), 200, 6);
    expect_injective(patch.mesh, make_chart(patch.mesh));
}

TEST(Chart, KeepsAnOpeningOpen) {
    const auto ring = [](const Vec2& p) { return p.norm() <= 150 && p.norm() >= 40; };
    const Patch patch = test::analytic_patch(test::sphere_map(300), ring, 150, 6);
    const auto chart = make_chart(patch.mesh);
    expect_injective(patch.mesh, chart);
    for (const auto& loop : boundary_loops(patch.mesh)) {
        std::vector<Vec2> points;
        for (const std::int32_t v : loop) points.push_back(chart[v]);
        EXPECT_FALSE(plane::crosses_itself({points, {}}));
    }
}

TEST(Chart, OfAFlatMeshKeepsEveryLength) {
    // A plane anywhere in space: a rigid motion, so that every pair of points keeps its distance.
    SurfaceMesh mesh = test::on_cylinder(test::with_hole(test::disc(80, 8), {20, 10}, 15), 1e9);
    const Eigen::Matrix3d turn =
        Eigen::AngleAxisd(2.1, Vec3(1, -2, 0.5).normalized()).toRotationMatrix();
    for (Vec3& p : mesh.position) p = turn * (p - Vec3(0, 0, 1e9)) + Vec3(300, -20, 7);
    const auto chart = make_chart(mesh);
    expect_injective(mesh, chart);
    for (std::size_t a = 0; a < chart.size(); a += 7)
        for (std::size_t b = 0; b < chart.size(); ++b)
            EXPECT_NEAR((chart[a] - chart[b]).norm(), (mesh.position[a] - mesh.position[b]).norm(),
                        1e-3);
}

TEST(Chart, OfASphericalCapStretchesNoMoreThanItMust) {
    // Closed form: no chart of a cap of half-angle a can do better than the range between its
    // parallel's length 2 pi R sin a and that of a flat circle of radius R a, spread evenly:
    // (sin a / a) in all. A cap of 0.5 rad has 4.1 %; the chart stays within that either way.
    const Patch patch = test::analytic_patch(test::sphere_map(200), test::within_disc(100), 100, 6);
    const ChartQuality quality = chart_quality(patch.mesh, make_chart(patch.mesh));
    EXPECT_GT(quality.least_stretch, 1.0 - 0.041);
    EXPECT_LT(quality.most_stretch, 1.0 + 0.041);
    EXPECT_LT(quality.least_stretch, quality.most_stretch - 0.02) << "a cap cannot lie flat";
}

TEST(Chart, OfAClosedSurfaceIsNone) {
    // A tetrahedron has no rim to lay on a circle.
    SurfaceMesh mesh;
    mesh.position = {{0, 0, 0}, {10, 0, 0}, {0, 10, 0}, {0, 0, 10}};
    mesh.triangle = {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}};
    for (const auto& v : mesh.triangle) {
        std::array<double, 3> length{};
        for (int i = 0; i < 3; ++i)
            length[i] = (mesh.position[v[i]] - mesh.position[v[(i + 1) % 3]]).norm();
        mesh.edge_length.push_back(length);
    }
    EXPECT_TRUE(make_chart(mesh).empty());
}

TEST(ChartQuality, HasTheSingularValuesOfALinearMap) {
    // Closed form: stretched by 1.2 along one direction and 0.7 across it, at any turn, then
    // sheared by s: singular values ((sqrt(s^2 + 4) + s) / 2) and its inverse.
    const auto figure = test::disc(50, 4);
    const SurfaceMesh mesh = test::on_cylinder(figure, 1e6);
    const auto mapped = [&](const Eigen::Matrix2d& m) {
        std::vector<Vec2> chart;
        for (const Vec2& p : figure.place) chart.emplace_back(m * p);
        return chart_quality(mesh, chart);
    };
    for (const double turn : {0.0, 0.4, 1.1, 2.5}) {
        const Eigen::Rotation2Dd r(turn), back(-0.3);
        const Eigen::Matrix2d m =
            r.toRotationMatrix() * Eigen::Vector2d(1.2, 0.7).asDiagonal() * back.toRotationMatrix();
        EXPECT_NEAR(mapped(m).most_stretch, 1.2, 1e-9) << turn;
        EXPECT_NEAR(mapped(m).least_stretch, 0.7, 1e-9) << turn;
    }
    Eigen::Matrix2d shear;
    shear << 1.0, 0.5, 0.0, 1.0;
    const double most = 0.5 * (std::sqrt(0.25 + 4.0) + 0.5);
    EXPECT_NEAR(mapped(shear).most_stretch, most, 1e-9);
    EXPECT_NEAR(mapped(shear).least_stretch, 1.0 / most, 1e-9);
}

}  // namespace
}  // namespace tearline::surface
