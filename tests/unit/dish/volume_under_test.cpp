#include "core/dish/volume_under.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/dish/planned_dish.h"
#include "tests/support/analytic_patch.h"

namespace tearline::dish {
namespace {

using std::numbers::pi;

TEST(VolumeUnder, IsTheFrustumOfTheWorkedJob) {
    // SOURCES.md section 1: 100 mm radius, 8 mm deep, 12:1, flat: 569 809.5 mm3. A polar mesh with
    // rings on both edges of the scarf; its polygons are 0.016 % smaller than the circles.
    surface::SurfaceMesh mesh;
    std::vector<Vec2> chart{{0, 0}};
    const int around = 200;
    const std::vector<double> rings{50, 100, 130, 160, 196};
    for (const double r : rings)
        for (int i = 0; i < around; ++i) {
            const double a = 2 * pi * i / around;
            chart.emplace_back(r * std::cos(a), r * std::sin(a));
        }
    for (int i = 0; i < around; ++i) {
        const int j = (i + 1) % around;
        mesh.triangle.push_back({0, 1 + i, 1 + j});
        for (int k = 0; k + 1 < static_cast<int>(rings.size()); ++k) {
            const int a = 1 + k * around, b = a + around;
            mesh.triangle.push_back({a + i, b + i, b + j});
            mesh.triangle.push_back({a + i, b + j, a + j});
        }
    }
    std::vector<double> depth;
    for (const Vec2& p : chart) {
        mesh.position.emplace_back(p.x(), p.y(), 0.0);
        depth.push_back(depth_at(Profile{{0, 8}, {96, 0}}, p.norm() - 100));
    }
    mesh.corner_normal.assign(mesh.triangle.size(), {Vec3(0, 0, 1), Vec3(0, 0, 1), Vec3(0, 0, 1)});
    const double polygon = around / (2 * pi) * std::sin(2 * pi / around);
    EXPECT_NEAR(volume_under(mesh, depth) / polygon, 569809.5, 2.0);
}

TEST(VolumeUnder, ASphereIsTheShells) {
    // A shell 10 mm thick inside a sphere cap: area at R, R - 5 and R - 10, Simpson's rule exact.
    const double R = 300;
    const auto patch = test::analytic_patch(test::sphere_map(R), test::within_disc(150), 150, 6);
    double flat = 0.0;
    for (const auto& t : patch.mesh.triangle)
        flat += 0.5 * (patch.mesh.position[t[1]] - patch.mesh.position[t[0]])
                          .cross(patch.mesh.position[t[2]] - patch.mesh.position[t[0]])
                          .norm();
    const std::vector<double> depth(patch.mesh.position.size(), 10.0);
    const double shell = (std::pow(R, 3) - std::pow(R - 10, 3)) / (3 * R * R);
    EXPECT_NEAR(volume_under(patch.mesh, depth) / (flat * shell), 1.0, 2e-4);
}

}  // namespace
}  // namespace tearline::dish
