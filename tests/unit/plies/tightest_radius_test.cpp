#include "core/plies/tightest_radius.h"

#include <gtest/gtest.h>

#include <numbers>

#include "tests/support/analytic_patch.h"

namespace tearline::plies {
namespace {

/// The whole test patch as the region of a ply.
RegionMesh whole(const surface::Patch& patch) {
    RegionMesh region{patch.mesh, patch.chart, {}, {}, patch.crease, {}};
    region.curvature.resize(patch.chart.size());
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int k = 0; k < 3; ++k) {
            const auto sample = patch.sample({TriangleId(t), Vec3::Unit(k)});
            region.curvature[patch.mesh.triangle[t][k]] = {sample.curvature_min,
                                                           sample.curvature_max};
        }
    return region;
}

TightestRadii radii(const surface::Patch& patch, double d) {
    return tightest_radii(whole(patch), [d](const Vec2&) { return d; });
}

TEST(TightestRadius, IsRadiusLessDepthOnABilgeAndMoreInAHollow) {
    // SOURCES.md section 6: R - d outside a 40 mm bilge; from inside the ply lies at R + d.
    const auto bilge =
        test::analytic_patch(test::cylinder_map(40), test::within_box(30, 30), 50, 4.0);
    const auto outside = radii(bilge, 6.0);
    ASSERT_TRUE(outside.convex);
    EXPECT_NEAR(outside.convex->radius, 34.0, 1e-9);
    EXPECT_FALSE(outside.concave);
    const auto hollow =
        test::analytic_patch(test::cylinder_map(-40), test::within_box(30, 30), 50, 4.0);
    const auto inside = radii(hollow, 6.0);
    ASSERT_TRUE(inside.concave);
    EXPECT_NEAR(inside.concave->radius, 46.0, 1e-9);
    EXPECT_FALSE(inside.convex);
}

TEST(TightestRadius, IsZeroOnARidgeAndDepthOnAnOpenedCrease) {
    const double turn = std::numbers::pi / 4;
    const auto chine =
        test::analytic_patch(test::wedge_map(turn), test::within_box(30, 30), 50, 5.0, true);
    const auto under = radii(chine, 5.5);
    ASSERT_TRUE(under.convex);
    EXPECT_EQ(under.convex->radius, 0.0);
    EXPECT_NEAR(under.convex->length, 60.0, 1e-9);
    const auto corner =
        test::analytic_patch(test::wedge_map(-turn), test::within_box(30, 30), 50, 5.0, true);
    const auto behind = radii(corner, 5.5);
    ASSERT_TRUE(behind.concave);
    EXPECT_NEAR(behind.concave->radius, 5.5, 1e-12);
    EXPECT_NEAR(behind.concave->turn, turn, 1e-12);
}

TEST(TightestRadius, MeasuresTheTurnAndLengthOfASmoothBend) {
    // Closed form: an arc of 62.4 mm (18 rows of the test mesh) on a radius of 40 turns by 1.56,
    // over 600 mm of length, whatever the depth.
    const double arc = 18.0 * 4.0 * std::sqrt(3.0) / 2.0;
    for (const double side : {1.0, -1.0}) {
        const auto bilge = test::analytic_patch(test::cylinder_map(40.0 * side),
                                                test::within_box(31.2, 300), 310, 4.0);
        const auto found = radii(bilge, 6.0);
        const auto& place = side > 0.0 ? found.convex : found.concave;
        ASSERT_TRUE(place);
        EXPECT_NEAR(place->length, 600.0, 12.0);
        EXPECT_NEAR(place->turn * place->length, arc / 40.0 * 600.0, 0.05 * 900.0);
    }
}

TEST(TightestRadius, GivesTheVolumeThatFillsASmoothHollow) {
    // Hollow of radius 12 under cloth that needs 20, turned by 1.5 over 600 mm: (400 - 144)
    // (tan 0.75 - 0.75) = 46.5 mm2, 27.9 cm3 in all.
    TightestRadii hollow;
    hollow.concave = TightPlace{12.0, {0, 0, 0}, 1.5, 600.0};
    const auto warnings = radius_warnings(hollow, 20.0, 2, "roving 600");
    ASSERT_EQ(warnings.size(), 1u);
    EXPECT_NE(warnings[0].words().told.find("27.9 cm3 of filler along 600 mm"), std::string::npos)
        << warnings[0].words().told;
}

TEST(TightestRadius, NamesTheFilletAndItsVolume) {
    // By hand: fillet r 8 in a right angle, section 64 (1 - pi/4) = 13.7345 mm2, less the arc of
    // radius 5 that is there, 25 (1 - pi/4) = 5.3650; over 300 mm 2.5108 cm3.
    EXPECT_NEAR(fillet_section(8.0, std::numbers::pi / 2), 13.7345, 1e-4);
    TightestRadii radii;
    radii.concave = TightPlace{5.0, {1, 2, 3}, std::numbers::pi / 2, 300.0};
    const auto warnings = radius_warnings(radii, 8.0, 3, "mat 450");
    ASSERT_EQ(warnings.size(), 1u);
    EXPECT_EQ(warnings[0].code(), "radius-concave");
    EXPECT_EQ(warnings[0].ply, 3);
    EXPECT_NE(warnings[0].words().told.find("radius 8.0 mm, 2.5 cm3"), std::string::npos)
        << warnings[0].words().told;
    EXPECT_TRUE(radius_warnings(radii, 5.0, 3, "mat 450").empty());
}

TEST(TightestRadius, SaysHowFarAConvexEdgeIsEased) {
    // By hand: rounding a right angle to r takes r (sqrt 2 - 1) off the edge, 3.3 mm at 8 mm, and
    // starts r from it on either side.
    TightestRadii radii;
    radii.convex = TightPlace{0.0, {0, 0, 0}, std::numbers::pi / 2, 100.0};
    const auto warnings = radius_warnings(radii, 8.0, 1, "roving 600");
    ASSERT_EQ(warnings.size(), 1u);
    EXPECT_EQ(warnings[0].code(), "radius-convex");
    EXPECT_NE(warnings[0].words().told.find("takes off 3.3 mm at the edge and starts 8.0 mm"),
              std::string::npos)
        << warnings[0].words().told;
}

TEST(TightestRadius, AsksForNoEasingThatNoEdgeCanBear) {
    // By hand: a turn of 150 degrees rounded to 8 mm would lose 8 (1 / cos 75 - 1) = 22.9 mm.
    TightestRadii radii;
    radii.convex = TightPlace{0.0, {0, 0, 0}, 150.0 * std::numbers::pi / 180.0, 100.0};
    const auto warnings = radius_warnings(radii, 8.0, 1, "mat 450");
    ASSERT_EQ(warnings.size(), 1u);
    EXPECT_NE(
        warnings[0].words().told.find("too sharp to be eased to that, which would take 23 mm"),
        std::string::npos)
        << warnings[0].words().told;
    EXPECT_EQ(warnings[0].words().told.find("starts"), std::string::npos);
}

}  // namespace
}  // namespace tearline::plies
