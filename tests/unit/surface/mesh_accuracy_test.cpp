#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <functional>
#include <iostream>
#include <numbers>

#include "core/surface/build_patch.h"
#include "core/surface/trace_geodesic.h"
#include "tests/support/stl_hull.h"

namespace tearline::surface {
namespace {

/// Distances of traced geodesics against the closed form, on an STL of 1 mm deflection.
void expect_distances(const std::string& name, const Vec3& centre_point, double radius,
                      const std::function<double(const Vec3&, const Vec3&)>& exact, double bar) {
    const hull::Hull hull = test::stl_hull(std::string(TEARLINE_SAMPLES) + "/" + name);
    PatchRequest request;
    request.seeds = {centre_point};
    request.damage_radius = 0.5 * radius;
    request.reach = 0.5 * radius + 10;
    const auto patch = build_patch(hull, request);
    ASSERT_TRUE(patch) << patch.error().message;
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
            const double f = (std::atan2(a.y(), -a.z()) - std::atan2(b.y(), -b.z())) * std::sin(half);
            const double s = slant(a), t = slant(b);
            return std::sqrt(s * s + t * t - 2 * s * t * std::cos(f));
        },
        0.5);
}

}  // namespace
}  // namespace tearline::surface
