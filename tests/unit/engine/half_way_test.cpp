#include "core/engine/half_way.h"

#include <gtest/gtest.h>

#include "core/engine/sounded_ground.h"
#include "tests/support/analytic_patch.h"

namespace tearline::engine {
namespace {

/// A disc in the chart.
Region2 disc(double radius) {
    Region2 region;
    for (int i = 0; i < 180; ++i)
        region.outer.push_back(radius * Vec2(std::cos(i * 2 * std::numbers::pi / 180),
                                             std::sin(i * 2 * std::numbers::pi / 180)));
    return region;
}

TEST(StraightedgeCorrection, OnABulgeIsWhatTheOldSurfaceRisesAboveTheEdge) {
    // A straightedge across a bulge of radius R rests on both edges of a ground disc of radius r:
    // the old surface stood R (1 - cos(r / R)) higher at the middle, in closed form.
    for (const double R : {600.0, 1500.0})
        for (const double r : {60.0, 110.0}) {
            const auto patch =
                test::analytic_patch(test::sphere_map(R), test::within_disc(260), 260, 8);
            const auto correction = straightedge_correction(
                patch, {disc(r)}, *patch.locate({0.0, 0.0}), Vec3(1, 0, 0), 500.0);
            ASSERT_TRUE(correction) << correction.error().message;
            EXPECT_NEAR(*correction, R * (1.0 - std::cos(r / R)), 0.02);
        }
}

TEST(StraightedgeCorrection, InAHollowIsTheGapUnderItsWholeLength) {
    // Seen from inside it rests on its ends: the gap under its middle, which is no depth, goes off.
    constexpr double R = 800.0, length = 400.0;
    const auto patch = test::analytic_patch(test::sphere_map(-R), test::within_disc(260), 260, 8);
    const auto correction = straightedge_correction(patch, {disc(80)}, *patch.locate({0.0, 0.0}),
                                                    Vec3(0, 1, 0), length);
    ASSERT_TRUE(correction) << correction.error().message;
    // Ends half the length away along the hull.
    EXPECT_NEAR(*correction, -R * (1.0 - std::cos(0.5 * length / R)), 0.02);
}

TEST(StraightedgeCorrection, IsNoneAlongACylinder) {
    const auto patch =
        test::analytic_patch(test::cylinder_map(300), test::within_disc(260), 260, 8);
    const auto along =
        straightedge_correction(patch, {disc(80)}, *patch.locate({0.0, 0.0}), Vec3(0, 1, 0), 400.0);
    ASSERT_TRUE(along);
    EXPECT_NEAR(*along, 0.0, 1e-6);
}

TEST(StraightedgeCorrection, RefusesOneThatIsTooShort) {
    const auto patch = test::analytic_patch(test::plane_map, test::within_disc(260), 260, 12);
    const auto correction = straightedge_correction(patch, {disc(120)}, *patch.locate({0.0, 0.0}),
                                                    Vec3(1, 0, 0), 200.0);
    ASSERT_FALSE(correction);
    EXPECT_NE(correction.error().message.find("200 mm does not reach over"), std::string::npos);
}

TEST(GlassContent, IsThatOfTheThickness) {
    // SOURCES.md section 2: 450 g/m2 at 0.30 by mass is 1.05078125 mm (2.56 and 1.20 g/mL).
    EXPECT_NEAR(glass_content_of(1.05078125, GramsPerSquareMetre(450), 1.20), 0.30, 1e-9);
    // Solid glass: w / rho_g.
    EXPECT_NEAR(glass_content_of(0.45 / 2.56, GramsPerSquareMetre(450), 1.20), 1.0, 1e-9);
}

TEST(BuiltSoFar, SaysResinRichOrStarved) {
    const auto code_and_words = [](double built) {
        BuiltSoFar so_far;
        so_far.plies = 3;
        so_far.planned_mm = 3.0;
        so_far.built_mm = built;
        return judged(so_far).at(0).message;
    };
    EXPECT_NE(code_and_words(3.1).find("as planned"), std::string::npos);
    EXPECT_NE(code_and_words(3.6).find("resin-rich"), std::string::npos);
    EXPECT_NE(code_and_words(2.5).find("starved"), std::string::npos);
}

}  // namespace
}  // namespace tearline::engine
