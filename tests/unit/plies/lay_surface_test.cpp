// From a chart region to its lay surface, on the mesh that plies really use.
#include "core/plies/lay_surface.h"

#include <gtest/gtest.h>

#include <chrono>
#include <numbers>

#include "tests/support/analytic_patch.h"
#include "tests/support/loops.h"
#include "tests/support/mesh_checks.h"
#include "tests/support/unroll.h"

namespace tearline::plies {
namespace {

using std::numbers::pi;

Region2 disc(const Vec2& centre, double radius) {
    return {test::circle(radius, centre, 240), {}};
}

/// Area of the part of a disc beyond a chord at signed distance c from its centre.
double segment(double r, double c) {
    return r * r * std::acos(c / r) - c * std::sqrt(r * r - c * c);
}

surface::Patch chine(double turn) {
    return test::analytic_patch(test::wedge_map(turn), test::within_disc(230), 240, 6.0, true);
}

TEST(LaySurface, LosesTheStripOfADiscOverAChine) {
    // Two circle segments beyond d tan(f/2) on either side of the chine (DEFINITIONS.md, Lay
    // surface).
    const double d = 5.5;
    const auto patch = chine(pi / 4);
    for (const double off : {0.0, 30.0, 99.0}) {
        const auto region = mesh_region(patch, disc({off, 0}, 100));
        ASSERT_TRUE(region) << region.error().message();
        const auto lay = lay_surface(patch, *region, [&](const Vec2&) { return d; }, {off, 0});
        ASSERT_TRUE(lay) << lay.error().message();
        test::expect_manifold(lay->mesh);
        const double w = d * std::tan(pi / 8);
        const double right = segment(100, w - off);
        const double left = w + off < 100 ? segment(100, w + off) : 0.0;
        EXPECT_NEAR(lay->area / (left + right), 1.0, 5e-4) << off;
        EXPECT_LT(test::unroll(lay->mesh).mismatch, 0.001);
        ASSERT_FALSE(lay->warnings.empty());
        EXPECT_EQ(lay->warnings.back().code(), "crease-trimmed");
        EXPECT_NE(lay->warnings.back().words().told.find("4.56 mm"), std::string::npos);
        EXPECT_EQ(lay->warnings.front().code() == "middle-on-crease", off == 0.0);
    }
}

TEST(LaySurface, GainsTheBandOfAnOpenedChine) {
    const double d = 5.5;
    const auto patch = chine(-pi / 4);
    const auto region = mesh_region(patch, disc({20, 0}, 100));
    ASSERT_TRUE(region) << region.error().message();
    const auto lay = lay_surface(patch, *region, [&](const Vec2&) { return d; }, {20, 0});
    ASSERT_TRUE(lay) << lay.error().message();
    const double chord = 2 * std::sqrt(100.0 * 100.0 - 20.0 * 20.0);
    EXPECT_NEAR(lay->area / (pi * 1e4 + d * pi / 4 * chord), 1.0, 5e-4);
    EXPECT_EQ(lay->warnings.back().code(), "crease-opened");
}

TEST(LaySurface, RefusesWhenTheStripTakesTheMiddleWithMuchOfThePly) {
    // 40 mm below a right-angled edge the strip is 80 mm wide: most of a disc of radius 45 mm.
    const auto patch = chine(pi / 2);
    const auto region = mesh_region(patch, disc({0, 0}, 45));
    ASSERT_TRUE(region) << region.error().message();
    const auto lay = lay_surface(patch, *region, [](const Vec2&) { return 40.0; }, {0, 0});
    ASSERT_FALSE(lay);
    EXPECT_EQ(lay.error().kind, ErrorKind::no_safe_answer);
}

TEST(LaySurface, RefusesARadiusTighterThanTheDepthAndNamesThePlace) {
    const auto patch =
        test::analytic_patch(test::cylinder_map(8), test::within_box(12, 40), 60, 1.5);
    const auto region = mesh_region(patch, disc({0, 0}, 10));
    ASSERT_TRUE(region) << region.error().message();
    const auto lay = lay_surface(patch, *region, [](const Vec2&) { return 10.0; }, {0, 0});
    ASSERT_FALSE(lay);
    EXPECT_EQ(lay.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(lay.error().message().find("near ("), std::string::npos) << lay.error().message();
}

}  // namespace
}  // namespace tearline::plies
