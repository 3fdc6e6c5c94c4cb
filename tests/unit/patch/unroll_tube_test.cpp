#include "core/patch/unroll_tube.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <set>

#include "core/surface/chart.h"
#include "core/surface/mesh_parts.h"

namespace tearline::patch {
namespace {

using std::numbers::pi;
constexpr int round_about = 48, along = 20;

/// A cylinder about the x axis, from x = -100 to 100, its outside seen.
surface::SurfaceMesh tube(double radius) {
    surface::SurfaceMesh mesh;
    for (int j = 0; j <= along; ++j)
        for (int i = 0; i < round_about; ++i) {
            const double a = 2.0 * pi * i / round_about;
            mesh.position.emplace_back(-100.0 + 10.0 * j, radius * std::cos(a),
                                       radius * std::sin(a));
        }
    const auto at = [](int i, int j) { return j * round_about + i % round_about; };
    for (int j = 0; j < along; ++j)
        for (int i = 0; i < round_about; ++i) {
            mesh.triangle.push_back({at(i, j), at(i + 1, j), at(i, j + 1)});
            mesh.triangle.push_back({at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)});
        }
    for (const auto& t : mesh.triangle) {
        std::array<Vec3, 3> normal;
        for (int i = 0; i < 3; ++i) {
            normal[i] = mesh.position[t[i]];
            normal[i].x() = 0.0;
            normal[i].normalize();
        }
        mesh.corner_normal.push_back(normal);
    }
    surface::set_arc_lengths(mesh);
    return mesh;
}

RepairRegion damage_at(const Vec3& place) {
    RepairRegion region;
    region.points = {place};
    return region;
}

TEST(UnrollTube, RollsACylinderOutForMoreThanATurnAboutTheDamage) {
    const double radius = 60.0, girth = 2.0 * pi * radius;
    const surface::SurfaceMesh mesh = tube(radius);
    const auto unrolled = unroll_tube(mesh, damage_at({0.0, radius, 0.0}));
    ASSERT_TRUE(unrolled);
    EXPECT_EQ(surface::count_parts(unrolled->mesh), 1u);
    EXPECT_EQ(surface::boundary_loops(unrolled->mesh).size(), 1u);
    // Every triangle of the tube is there, those on the far side twice.
    std::set<std::int32_t> once(unrolled->source.begin(), unrolled->source.end());
    EXPECT_EQ(once.size(), mesh.triangle.size());
    EXPECT_GT(unrolled->source.size(), mesh.triangle.size() * 5 / 4);
    EXPECT_LT(unrolled->source.size(), mesh.triangle.size() * 2);
    const auto chart = surface::make_chart(unrolled->mesh, rolled_flat(unrolled->mesh));
    ASSERT_FALSE(chart.empty());
    // Closed form: a cylinder unrolls, its chart is true to length.
    const auto quality = surface::chart_quality(unrolled->mesh, chart);
    EXPECT_NEAR(quality.least_stretch, 1.0, 1e-3);
    EXPECT_NEAR(quality.most_stretch, 1.0, 1e-3);
    // Copies of a triangle lie a girth apart in it.
    for (std::size_t t = 0; t < unrolled->source.size(); ++t)
        for (std::size_t s = 0; s < t; ++s) {
            if (unrolled->source[s] != unrolled->source[t]) continue;
            const auto a = unrolled->mesh.triangle[s][0], b = unrolled->mesh.triangle[t][0];
            EXPECT_NEAR((chart[a] - chart[b]).norm(),
                        girth * std::abs(unrolled->turn[s] - unrolled->turn[t]), 0.01 * girth);
        }
}

TEST(UnrollTube, IsNothingForASheet) {
    surface::SurfaceMesh sheet;
    sheet.position = {{0, 0, 0}, {10, 0, 0}, {0, 10, 0}};
    sheet.triangle = {{0, 1, 2}};
    sheet.corner_normal = {{Vec3(0, 0, 1), Vec3(0, 0, 1), Vec3(0, 0, 1)}};
    surface::set_arc_lengths(sheet);
    EXPECT_FALSE(unroll_tube(sheet, damage_at({1, 1, 0})));
}

TEST(UnrollTube, JointsLieAQuarterApartOrFiftyMillimetres) {
    EXPECT_DOUBLE_EQ(joints_apart(400.0), 100.0);
    EXPECT_DOUBLE_EQ(joints_apart(150.0), 50.0);
}

}  // namespace
}  // namespace tearline::patch
