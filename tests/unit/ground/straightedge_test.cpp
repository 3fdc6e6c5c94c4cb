#include "core/ground/straightedge.h"

#include <gtest/gtest.h>

#include "tests/support/analytic_patch.h"

namespace tearline::ground::straightedge_test {
namespace {

/// A disc in the chart.
std::vector<Region2> disc(double radius) {
    Region2 region;
    for (int i = 0; i < 720; ++i)
        region.outer.push_back(radius * Vec2(std::cos(i * 2 * std::numbers::pi / 720),
                                             std::sin(i * 2 * std::numbers::pi / 720)));
    return {region};
}

surface::Patch patch_of(const test::AnalyticMap& map, double radius) {
    return test::analytic_patch(map, test::within_disc(radius), radius, 10);
}

Result<StraightedgeRest> rest_on(const surface::Patch& patch, const std::vector<Region2>& ground,
                                 const Straightedge& edge, const Vec2& place = {0, 0}) {
    return straightedge_rest({patch, ground}, *patch.locate(place), edge);
}

constexpr double bar = 0.005;  // [mm] a twentieth of what a gauge reads

TEST(StraightedgeRest, OnABulgeIsOnTheEdgesOfTheGround) {
    // A straightedge across a bulge of radius R rests on both edges of a ground disc of radius r:
    // the old surface stood R (1 - cos(r / R)) higher at the middle, in closed form.
    for (const double R : {600.0, 1500.0})
        for (const double r : {60.0, 110.0}) {
            const auto patch = patch_of(test::sphere_map(R), 280);
            const auto ground = disc(r);
            const auto rest = rest_on(patch, ground, {{1, 0, 0}, 500.0});
            ASSERT_TRUE(rest) << rest.error().message();
            EXPECT_NEAR(rest->gap, -R * (1.0 - std::cos(r / R)), bar);
            EXPECT_NEAR(rest->depth_of(2.0), 2.0 + R * (1.0 - std::cos(r / R)), bar);
            EXPECT_FALSE(rest->ahead.under_tip);
            EXPECT_NEAR(rest->ahead.at.x(), R * std::sin(r / R), 0.05);
            EXPECT_NEAR(rest->behind.at.x(), -R * std::sin(r / R), 0.05);
        }
}

TEST(StraightedgeRest, AsideOnABulgeLeansAndIsReadSquare) {
    // Over a place s from the middle of a ground strip the edge is the chord between the angles
    // -b and a of a circle: square from its middle R cos((a + b)/2), and leaning by (b - a)/2. A
    // point d below the surface is so R cos((a + b)/2) - (R - d) cos((b - a)/2) from it.
    constexpr double R = 450.0, r = 120.0, s = 60.0;
    const auto patch = patch_of(test::cylinder_map(R), 330);
    const auto ground = disc(r);
    const auto rest = rest_on(patch, ground, {{1, 0, 0}, 480.0}, {s, 0.0});
    ASSERT_TRUE(rest) << rest.error().message();
    const double a = (r - s) / R, b = (r + s) / R;
    EXPECT_NEAR(rest->slope, std::tan(0.5 * (b - a)), 1e-4);
    for (const double d : {0.0, 4.0, 9.0}) {
        const double read = R * std::cos(0.5 * (a + b)) - (R - d) * std::cos(0.5 * (b - a));
        EXPECT_NEAR(rest->depth_of(read), d, bar);
    }
    // Its height over the place is shared as the lever has it: b's arm to the whole.
    const double arm_ahead = R * std::sin(a), arm_behind = R * std::sin(b);
    EXPECT_NEAR(rest->ahead.share, arm_behind / (arm_ahead + arm_behind), 1e-3);
    EXPECT_NEAR(rest->behind.share, arm_ahead / (arm_ahead + arm_behind), 1e-3);
}

TEST(StraightedgeRest, InAHollowIsOnItsTwoTips) {
    // A chord of length L in a circle of radius R stands R - sqrt(R^2 - L^2/4) off its middle:
    // R 800, L 400: 25.403 mm.
    EXPECT_NEAR(800.0 - std::sqrt(800.0 * 800.0 - 200.0 * 200.0), 25.403, 5e-4);
    for (const auto& [R, length] : {std::pair{800.0, 400.0}, {1500.0, 600.0}, {500.0, 600.0}}) {
        const auto patch = patch_of(test::sphere_map(-R), 390);
        const auto ground = disc(80);
        for (const Vec2& place : {Vec2(0, 0), Vec2(-30, 40)}) {
            const auto rest = rest_on(patch, ground, {{0, 1, 0}, length}, place);
            ASSERT_TRUE(rest) << rest.error().message();
            EXPECT_NEAR(rest->gap, R - std::sqrt(R * R - 0.25 * length * length), bar) << R;
            EXPECT_NEAR(rest->slope, 0.0, 1e-4);
            EXPECT_NEAR((rest->ahead.at - rest->behind.at).norm(), length, 0.02);
            EXPECT_TRUE(rest->ahead.under_tip && rest->behind.under_tip);
        }
    }
}

TEST(StraightedgeRest, UnderATipTheSurfaceRisesPastIt) {
    // Where the surface at a tip leans by f (sin f = L/2R), a movement of 1 along its own normal
    // lifts it by 1/cos f at the place where the tip stands (closed form).
    constexpr double R = 500.0, length = 600.0;
    const auto patch = patch_of(test::sphere_map(-R), 390);
    const auto ground = disc(80);
    const auto rest = rest_on(patch, ground, {{1, 0, 0}, length});
    ASSERT_TRUE(rest) << rest.error().message();
    const Vec3 inward = (Vec3(0, 0, R) - rest->ahead.at).normalized();
    EXPECT_NEAR(rest->ahead.lift.dot(inward), 1.0 / std::sqrt(1.0 - 0.36), 1e-3);
    EXPECT_NEAR(rest->ahead.share, 0.5, 1e-6);
}

TEST(StraightedgeRest, AcrossTheAxisOfACylinderStandsInAPlane) {
    // The plane through the normal cuts a cylinder in an ellipse: tips L/2 cos f from the axis'
    // plane, whatever way a geodesic would wind.
    constexpr double R = 700.0, length = 700.0;
    const auto patch = patch_of(test::cylinder_map(-R), 420);
    const auto ground = disc(80);
    for (const double f : {0.0, 0.5, 1.0}) {
        const auto rest = rest_on(patch, ground, {{std::cos(f), std::sin(f), 0}, length});
        ASSERT_TRUE(rest) << rest.error().message();
        const double out = 0.5 * length * std::cos(f);
        EXPECT_NEAR(rest->gap, R - std::sqrt(R * R - out * out), bar) << f;
    }
}

TEST(StraightedgeRest, AlongACylinderIsOnTheSurface) {
    const auto patch = patch_of(test::cylinder_map(300), 260);
    const auto ground = disc(80);
    const auto along = rest_on(patch, ground, {{0, 1, 0}, 400.0});
    ASSERT_TRUE(along) << along.error().message();
    EXPECT_NEAR(along->gap, 0.0, 1e-4);
}

TEST(StraightedgeRest, OnASaddleIsTheOneOrTheOther) {
    // A surface of revolution of radius R cosh(y/R): hollow along y, where the edge bridges the
    // meridian, a bulge of radius R across. The meridian's height is found by halving on the map.
    constexpr double R = 900.0, length = 500.0, r = 80.0;
    const auto map = test::pseudosphere_map(R);
    const auto patch = patch_of(map, 320);
    const auto ground = disc(r);
    const auto along = rest_on(patch, ground, {{0, 1, 0}, length});
    ASSERT_TRUE(along) << along.error().message();
    double low = 0.0, high = 320.0;
    for (int i = 0; i < 60; ++i) {
        const double y = 0.5 * (low + high);
        (map({0.0, y}, 1).position.y() < 0.5 * length ? low : high) = y;
    }
    EXPECT_NEAR(along->gap, map({0.0, low}, 1).position.z(), bar);
    const auto across = rest_on(patch, ground, {{1, 0, 0}, length});
    ASSERT_TRUE(across) << across.error().message();
    EXPECT_NEAR(across->gap, -R * (1.0 - std::cos(r / R)), bar);
}

TEST(StraightedgeRest, BesideTheGroundIsOnThePlaceItself) {
    const auto patch = patch_of(test::sphere_map(600), 280);
    const auto ground = disc(60);
    const auto rest = rest_on(patch, ground, {{1, 0, 0}, 300.0}, {70.0, 0.0});
    ASSERT_TRUE(rest) << rest.error().message();
    EXPECT_NEAR(rest->gap, 0.0, 1e-9);
}

TEST(StraightedgeRest, RefusesOneThatIsTooShort) {
    const auto patch = patch_of(test::plane_map, 260);
    const auto ground = disc(120);
    const auto rest = rest_on(patch, ground, {{1, 0, 0}, 200.0});
    ASSERT_FALSE(rest);
    EXPECT_NE(rest.error().message().find("200 mm does not reach over"), std::string::npos);
}

TEST(StraightedgeRest, RefusesAHollowThatIsNotKnownUnderItsTips) {
    const auto patch = patch_of(test::sphere_map(-3000), 200);
    const auto ground = disc(80);
    const auto rest = rest_on(patch, ground, {{1, 0, 0}, 600.0});
    ASSERT_FALSE(rest);
    EXPECT_NE(rest.error().message().find("farther than the hull is known"), std::string::npos);
    // A bulge or a flat that ends is no matter: the edge lies on what is there.
    for (const auto& map : {test::sphere_map(3000), test::AnalyticMap(test::plane_map)}) {
        const auto known = patch_of(map, 200);
        EXPECT_TRUE(rest_on(known, ground, {{1, 0, 0}, 600.0}));
    }
}

TEST(StraightedgeRest, LooksAtTheSurfaceAroundWhereThePatchEnds) {
    constexpr double R = 3000.0;
    const auto patch = patch_of(test::cylinder_map(-R), 150);
    const auto around = patch_of(test::cylinder_map(-R), 360);
    const auto ground = disc(80);
    const auto rest = straightedge_rest({patch, ground, &around}, *patch.locate({20.0, 10.0}),
                                        {{1, 0, 0}, 600.0});
    ASSERT_TRUE(rest) << rest.error().message();
    EXPECT_NEAR(rest->gap, R - std::sqrt(R * R - 300.0 * 300.0), bar);
}

TEST(StraightedgeRest, KnowsTheGroundUnderIt) {
    // The ground under an edge across the middle of a disc is the disc's own width, on the circle.
    constexpr double R = 800.0, r = 80.0;
    const auto patch = patch_of(test::cylinder_map(R), 260);
    const auto ground = disc(r);
    const auto rest = rest_on(patch, ground, {{1, 0, 0}, 400.0});
    ASSERT_TRUE(rest) << rest.error().message();
    double widest = 0.0;
    for (const GroundPlace& place : rest->over) {
        const double u = place.profile.x();
        EXPECT_NEAR(place.profile.y(), std::sqrt(R * R - u * u) - R, 1e-3);
        EXPECT_NEAR(place.chart.x(), R * std::asin(u / R), 0.01);
        widest = std::max(widest, std::abs(place.chart.x()));
    }
    EXPECT_NEAR(widest, r, 2.5);  // a hundredth of half the edge, and less than the edge itself
    EXPECT_LT(widest, r);
}

}  // namespace
}  // namespace tearline::ground::straightedge_test
