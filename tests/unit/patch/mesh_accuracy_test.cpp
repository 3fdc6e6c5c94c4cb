#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <ctime>
#include <functional>
#include <iostream>
#include <numbers>

#include "core/patch/build_patch.h"
#include "core/surface/trace_geodesic.h"
#include "tests/support/analytic_patch.h"
#include "tests/support/stl_hull.h"

namespace tearline::surface {
namespace {

/// Distances of traced geodesics against the closed form, on an STL of 1 mm deflection.
void expect_distances(const std::string& name, const Vec3& centre_point, double radius,
                      const std::function<double(const Vec3&, const Vec3&)>& exact, double bar) {
    const hull::Hull hull = test::stl_hull(std::string(TEARLINE_SAMPLES) + "/" + name);
    patch::PatchRequest request;
    request.seeds = {centre_point};
    request.damage_radius = 0.5 * radius;
    request.reach = 0.5 * radius + 10;
    const auto patch = patch::build_patch(hull, request);
    ASSERT_TRUE(patch) << patch.error().message();
    const auto centre = patch->nearest(centre_point).at;
    const SurfaceSample start = patch->sample(centre);
    Vec3 x = start.normal.unitOrthogonal();
    const Vec3 y = start.normal.cross(x);
    const std::vector<double> distances{0.5 * radius, radius};
    double worst = 0.0;
    for (int k = 0; k < 90; ++k) {
        const double a = k * std::numbers::pi / 45;
        const auto traced =
            trace_geodesic(*patch, {centre, std::cos(a) * x + std::sin(a) * y}, distances);
        ASSERT_EQ(traced.at.size(), 2u);
        for (int i = 0; i < 2; ++i)
            worst = std::max(worst,
                             std::abs(exact(start.position, patch->sample(traced.at[i]).position) -
                                      distances[i]));
    }
    std::cout << name << ": worst distance error " << worst << " mm\n";
    EXPECT_LT(worst, bar);
}

TEST(MeshAccuracy, DenseScanOfASphereIsThinnedAndKeepsItsDistances) {
    // 400 000 triangles of 1.5 mm; closed form: the sphere map's chart radius is the distance.
    const Patch dense =
        test::analytic_patch(test::sphere_map(600), test::within_disc(350), 350, 1.5);
    hull::Hull hull;
    hull.vertices = dense.mesh.position;
    hull.triangles = dense.mesh.triangle;
    patch::PatchRequest request;
    request.seeds = {{0, 0, 0}};
    request.damage_radius = 150;
    request.reach = 150;
    const std::clock_t start = std::clock();
    const auto patch = patch::build_patch(hull, request);
    std::cout << hull.triangles.size() << " triangles read, patch in "
              << 1000.0 * (std::clock() - start) / CLOCKS_PER_SEC << " ms\n";
    ASSERT_TRUE(patch) << patch.error().message();
    EXPECT_LT(patch->mesh.triangle.size(), 20000u);
    const auto centre = patch->nearest({0, 0, 0}).at;
    const Vec3 from = patch->sample(centre).position + Vec3(0, 0, 600);
    for (int k = 0; k < 60; ++k) {
        const double a = k * std::numbers::pi / 30;
        const std::vector<double> distances{290};
        const auto traced =
            trace_geodesic(*patch, {centre, {std::cos(a), std::sin(a), 0}}, distances);
        ASSERT_EQ(traced.at.size(), 1u);
        const Vec3 to = patch->sample(traced.at[0]).position + Vec3(0, 0, 600);
        EXPECT_NEAR(600 * std::atan2(from.cross(to).norm(), from.dot(to)), 290, 0.05);
    }
}

TEST(MeshAccuracy, CylinderFromStlUnrolls) {
    expect_distances(
        "cylinder.stl", {1000, 0, -500}, 300,
        [](const Vec3& a, const Vec3& b) {
            return std::hypot(a.x() - b.x(),
                              500 * (std::atan2(a.y(), -a.z()) - std::atan2(b.y(), -b.z())));
        },
        0.5);
}

TEST(MeshAccuracy, SphereFromStlHasGreatCircles) {
    expect_distances(
        "sphere.stl", {0, 0, -600}, 300,
        [](const Vec3& a, const Vec3& b) { return 600 * std::atan2(a.cross(b).norm(), a.dot(b)); },
        0.5);
}

TEST(MeshAccuracy, ConeFromStlDevelops) {
    // Half-angle 20 degrees, axis x through the origin, radius 600 at x = 0:
    // developed, a point at slant s from the apex and angle f about the axis goes to f sin 20.
    const double half = 20 * std::numbers::pi / 180;
    expect_distances(
        "cone.stl", {549.4954838, 0, -400}, 300,
        [half](const Vec3& a, const Vec3& b) {
            const auto slant = [&](const Vec3& p) {
                return std::hypot(p.y(), p.z()) / std::sin(half);
            };
            const double f =
                (std::atan2(a.y(), -a.z()) - std::atan2(b.y(), -b.z())) * std::sin(half);
            const double s = slant(a), t = slant(b);
            return std::sqrt(s * s + t * t - 2 * s * t * std::cos(f));
        },
        0.5);
}

TEST(MeshAccuracy, WigleyFromStlKeepsToItsFormulaBesideTheKeel) {
    // |y| = 200 (1 - (x / 2000)^2)(1 - (z / 250)^2): the distance is the misfit over its slope.
    const hull::Hull hull = test::stl_hull(std::string(TEARLINE_SAMPLES) + "/wigley.stl");
    patch::PatchRequest request;
    request.seeds = {{571.6, 71.4, -194.5}};
    request.damage_radius = 124.0;
    request.reach = 100.0;
    const auto patch = patch::build_patch(hull, request);
    ASSERT_TRUE(patch) << patch.error().message();
    double worst = 0.0;
    Vec3 at = Vec3::Zero();
    int count = 0;
    for (const auto& v : patch->mesh.triangle)
        for (const Vec3& w : {Vec3(1, 1, 1), Vec3(4, 1, 1), Vec3(1, 4, 1), Vec3(1, 1, 4),
                              Vec3(0.05, 3, 3), Vec3(3, 0.05, 3), Vec3(3, 3, 0.05)}) {
            const auto t = static_cast<std::size_t>(&v - patch->mesh.triangle.data());
            const Vec3 p = patch->sample({TriangleId(t), w / w.sum()}).position;
            const double fx = 1.0 - std::pow(p.x() / 2000.0, 2);
            const double fz = 1.0 - std::pow(p.z() / 250.0, 2);
            const Vec3 slope(400.0 * p.x() / 4e6 * fz, 1.0, 400.0 * p.z() / 62500.0 * fx);
            const double off = std::abs(std::abs(p.y()) - 200.0 * fx * fz) / slope.norm();
            ++count;
            if (off <= worst) continue;
            worst = off;
            at = p;
        }
    EXPECT_GT(count, 1000);
    EXPECT_LT(worst, 0.5) << at.transpose();
}

}  // namespace
}  // namespace tearline::surface
