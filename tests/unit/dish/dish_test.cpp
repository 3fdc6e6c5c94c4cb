#include "core/dish/dish.h"

#include <gtest/gtest.h>

#include <random>

#include "tests/support/analytic_patch.h"
#include "tests/support/chart_outline.h"

namespace tearline::dish {
namespace {

constexpr double pi = std::numbers::pi;

TEST(Profile, IsTheFloorInsideAndTheBaseSurfaceBeyond) {
    const Profile profile{{0, 8}, {96, 0}};  // 12:1 from 8 mm
    EXPECT_DOUBLE_EQ(depth_at(profile, -5), 8);
    EXPECT_DOUBLE_EQ(depth_at(profile, 0), 8);
    EXPECT_DOUBLE_EQ(depth_at(profile, 24), 6);
    EXPECT_DOUBLE_EQ(depth_at(profile, 96), 0);
    EXPECT_DOUBLE_EQ(depth_at(profile, 200), 0);
}

TEST(Dish, HoldsTheFrustumOfTheWorkedJob) {
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
        depth.push_back(depth_at({{0, 8}, {96, 0}}, p.norm() - 100));
    }
    mesh.corner_normal.assign(mesh.triangle.size(), {Vec3(0, 0, 1), Vec3(0, 0, 1), Vec3(0, 0, 1)});
    const double polygon = around / (2 * pi) * std::sin(2 * pi / around);
    EXPECT_NEAR(volume_under(mesh, depth) / polygon, 569809.5, 2.0);
}

TEST(Dish, VolumeUnderASphereIsTheShells) {
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

TEST(OffsetDistance, IsTheGeodesicDistanceOnTheSphere) {
    // Closed form: the sphere map's chart radius is the geodesic distance from the pole.
    const auto patch = test::analytic_patch(test::sphere_map(500), test::within_disc(340), 340, 12);
    const auto outline = test::chart_outline(patch, test::circle_curve({0, 0}, 100), 120);
    const std::vector<double> offsets{60.0, 200.0};
    const OffsetDistance distance(sweep_offsets(patch, outline, offsets));
    std::mt19937 random(19);  // fixed start value
    std::uniform_real_distribution<double> across(-290.0, 290.0);
    for (int i = 0; i < 4000; ++i) {
        const Vec2 p(across(random), across(random));
        if (p.norm() > 299) continue;
        EXPECT_NEAR(distance.at(p), std::max(0.0, p.norm() - 100), 0.04) << p.transpose();
    }
    EXPECT_DOUBLE_EQ(distance.at({0, 330}), 200.0);  // beyond the sweep
    EXPECT_FALSE(distance.reached({0, 330}));
}

TEST(OffsetDistance, TakesTheShorterOfTwoWays) {
    // Between two corners of an L the nearer of the two arms counts; plane distances by hand.
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(300), 300, 12);
    const Loop2 corners{{-100, -100}, {100, -100}, {100, -20}, {-20, -20}, {-20, 100}, {-100, 100}};
    const auto outline = test::chart_outline(patch, test::polygon_curve(corners), 1);
    const std::vector<double> offsets{150.0};
    const OffsetDistance distance(sweep_offsets(patch, outline, offsets));
    EXPECT_NEAR(distance.at({30, 20}), 40.0, 1e-3);     // above the lower arm
    EXPECT_NEAR(distance.at({0, 60}), 20.0, 1e-3);      // beside the upper arm
    EXPECT_NEAR(distance.at({130, -140}), 50.0, 0.02);  // 30-40-50 off the corner
    EXPECT_NEAR(distance.at({60, 60}), 80.0, 1e-3);
    EXPECT_DOUBLE_EQ(distance.at({-50, -50}), 0.0);
    EXPECT_DOUBLE_EQ(distance.at({90, -30}), 0.0);
}

TEST(OffsetDistance, GoesRoundAnOpening) {
    // A round opening of radius a in the plane, a small damage beside it. The shortest way to a
    // point behind is tangent - arc - tangent: by hand from the centre distances.
    const double a = 50.0;
    const auto inside = [&](const Vec2& p) { return p.norm() <= 330 && p.norm() >= a; };
    const auto patch = test::analytic_patch(test::plane_map, inside, 330, 5, false, true);
    // The opening's rim is a polygon through lattice points outside the circle of radius a.
    const Vec2 centre(-140, 0);
    const double r = 40.0;
    const auto outline = test::chart_outline(patch, test::circle_curve(centre, r), 60);
    const std::vector<double> offsets{220.0};
    const auto sweep = sweep_offsets(patch, outline, offsets);
    EXPECT_GT(sweep.fronts.size(), 1u);
    const OffsetDistance distance(sweep);
    // The shortest closed string round the polygon lies between those of circles that fit in and
    // about it.
    const auto round = [&](const Vec2& p, double radius) {
        const double d1 = centre.norm(), d2 = p.norm();
        const double angle = std::acos(centre.dot(p) / (d1 * d2));
        const double arc = angle - std::acos(radius / d1) - std::acos(radius / d2);
        if (arc <= 0.0) return (p - centre).norm() - r;
        return std::sqrt(d1 * d1 - radius * radius) + std::sqrt(d2 * d2 - radius * radius) +
               radius * arc - r;
    };
    double rim = 0.0;
    for (const Vec2& p : patch.domain().holes.at(0)) rim = std::max(rim, p.norm());
    for (const Vec2& p : {Vec2(70, 0), Vec2(90, 8), Vec2(75, 25), Vec2(60, -20), Vec2(0, 90)}) {
        EXPECT_GE(distance.at(p), round(p, a) - 0.1) << p.transpose();
        EXPECT_LE(distance.at(p), round(p, rim) + 0.1) << p.transpose();
        // Never shorter than through the opening.
        EXPECT_GE(distance.at(p), (p - centre).norm() - r - 0.05);
    }
}

}  // namespace
}  // namespace tearline::dish
