#include "core/patch/end_strip.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

namespace tearline::patch {
namespace {

using std::numbers::pi;

/// Points of an end with the hull's normals there.
struct End {
    std::vector<Vec3> place, normal;
};

/// The edge x = 0 of the plane z = 0 that lies at x < 0, the hull to the left of +y.
End straight_end() {
    End end;
    for (int i = 0; i <= 20; ++i) {
        end.place.emplace_back(0.0, 8.0 * i, 0.0);
        end.normal.emplace_back(0, 0, 1);
    }
    return end;
}

/// The edge of a round hole in the plane z = 0, the hull to the left: clockwise.
End round_hole(double radius) {
    End end;
    for (int i = 0; i <= 120; ++i) {
        const double a = -pi * i / 120;
        end.place.push_back(radius * Vec3(std::cos(a), std::sin(a), 0));
        end.normal.emplace_back(0, 0, 1);
    }
    return end;
}

TEST(EndStrip, OverAStraightEdgeIsAnArcAndAPlane) {
    // Closed form: a quarter circle about (0, y, -12), then down the plane x = 12.
    const EndBend bend{12.0, pi / 2.0};
    const End end = straight_end();
    const EndStrip strip(end.place, end.normal, bend);
    for (const double angle : {0.0, 0.3, 1.2}) {
        const auto at = strip.at(7.4, 12.0 * angle);
        EXPECT_LT((at.position - Vec3(12.0 * std::sin(angle), 59.2, 12.0 * (std::cos(angle) - 1.0)))
                      .norm(),
                  1e-9);
        EXPECT_LT((at.normal - Vec3(std::sin(angle), 0, std::cos(angle))).norm(), 1e-9);
        EXPECT_NEAR(at.curvature_min, 0.0, 1e-9);
        EXPECT_NEAR(at.curvature_max, 1.0 / 12.0, 1e-6);
    }
    const auto flap = strip.at(3.0, bend.girth() + 40.0);
    EXPECT_LT((flap.position - Vec3(12.0, 24.0, -52.0)).norm(), 1e-9);
    EXPECT_LT((flap.normal - Vec3(1, 0, 0)).norm(), 1e-9);
    EXPECT_NEAR(flap.curvature_max, 0.0, 1e-9);
}

TEST(EndStrip, InsideARoundHoleIsATorusAndACylinder) {
    // Closed form: at the turn a the strip lies 100 - 20 sin a from the hole's axis; its flap is a
    // cylinder of radius 80 seen from inside.
    const EndBend bend{20.0, pi / 2.0};
    const End end = round_hole(100.0);
    const EndStrip strip(end.place, end.normal, bend);
    for (const double angle : {0.4, 1.0}) {
        const auto at = strip.at(60.3, 20.0 * angle);
        const double from_axis = 100.0 - 20.0 * std::sin(angle);
        EXPECT_NEAR(std::hypot(at.position.x(), at.position.y()), from_axis, 1e-5);
        // By the spline's slope between points 2.6 mm apart: to (h / R)^3.
        EXPECT_NEAR(strip.stretch_along(60.3, 20.0 * angle), from_axis / 100.0, 1e-5);
        EXPECT_NEAR(at.curvature_max, 1.0 / 20.0, 1e-5);
        // Meusnier: the parallel's own bend by the sine of the normal over it.
        EXPECT_NEAR(at.curvature_min, -std::sin(angle) / from_axis, 1e-5);
    }
    const auto flap = strip.at(60.0, bend.girth() + 30.0);
    EXPECT_NEAR(std::hypot(flap.position.x(), flap.position.y()), 80.0, 1e-5);
    EXPECT_NEAR(flap.position.z(), -50.0, 1e-9);
    EXPECT_NEAR(flap.curvature_min, -1.0 / 80.0, 1e-5);
}

TEST(EndStrip, OfATwistedEndHasTheNormalsOfItsOwnSurface) {
    // Second route: differences of its places, along a helix whose normals turn about it.
    End end;
    for (int i = 0; i <= 60; ++i) {
        const double a = 0.05 * i;
        end.place.emplace_back(300.0 * std::cos(a), 300.0 * std::sin(a), 40.0 * a);
        const Vec3 along = Vec3(-300.0 * std::sin(a), 300.0 * std::cos(a), 40.0).normalized();
        const Vec3 in(-std::cos(a), -std::sin(a), 0.0);
        end.normal.push_back(Eigen::AngleAxisd(0.3 + 0.4 * a, along) * in);
    }
    const EndBend bend{15.0, 2.0};
    const EndStrip strip(end.place, end.normal, bend);
    for (const double v : {3.0, 20.0, 60.0}) {
        const double u = 30.4, h = 1e-4;
        const Vec3 by_u = strip.at(u + h, v).position - strip.at(u - h, v).position;
        const Vec3 by_v = strip.at(u, v + h).position - strip.at(u, v - h).position;
        EXPECT_LT((strip.at(u, v).normal - by_v.cross(by_u).normalized()).norm(), 1e-6) << v;
        // The way over the end is as long as v says.
        EXPECT_NEAR(by_v.norm(), 2.0 * h, 1e-10) << v;
    }
}

}  // namespace
}  // namespace tearline::patch
