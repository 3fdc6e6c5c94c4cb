#include "core/closing/plug.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace tearline::closing {
namespace {

TEST(Plug, IsThinnerByItsBedAndByWhatTheNewSkinIsThicker) {
    job::Core core;
    core.thickness = 15.0;
    core.bed = 1.0;
    EXPECT_DOUBLE_EQ(plug_thickness(core, 3.1, 2.5), 13.4);  // 15 - 1 - 0.6
}

TEST(Kerf, OpensAsTheWorkedFigureSays) {
    // Width 2, pitch 25, depth 15, radius 1000: 2/25 + 15/2000 = 8.75 %; each opens by 0.375 mm.
    const KerfMove open = kerf_move(25.0, 2.0, 15.0, 1.0 / 1000.0);
    EXPECT_NEAR(open.share, 0.0875, 1e-12);
    EXPECT_NEAR(open.moves, -0.375, 1e-12);
    EXPECT_FALSE(open.closes_up);
    const KerfMove closed = kerf_move(25.0, 2.0, 15.0, -1.0 / 1000.0);
    EXPECT_NEAR(closed.share, 0.0725, 1e-12);  // 0.08 - 0.0075
    EXPECT_NEAR(closed.moves, 0.375, 1e-12);
}

TEST(Kerf, ThatIsTooNarrowToCloseIsTold) {
    // p d / R = 25 x 15 / 100 = 3.75 mm > 2.
    EXPECT_TRUE(kerf_move(25.0, 2.0, 15.0, -1.0 / 100.0).closes_up);
    EXPECT_FALSE(kerf_move(25.0, 4.0, 15.0, -1.0 / 100.0).closes_up);
}

TEST(Kerf, CrossingsAreCountedOnce) {
    EXPECT_NEAR(kerf_share(0.1, 0.2), 0.28, 1e-12);
}

TEST(StandOff, OfAFlatPieceIsItsSagitta) {
    // 25^2 / 8 x 2 / 750 = 0.2083 mm on a sphere of 750; nothing on a plane.
    EXPECT_NEAR(stand_off(25.0, 1.0 / 750.0, 1.0 / 750.0), 0.20833, 1e-5);
    EXPECT_DOUBLE_EQ(stand_off(25.0, 0.0, 0.0), 0.0);
}

PlugFace disc(double radius) {
    return {std::numbers::pi * radius * radius, 2.0 * std::numbers::pi * radius};
}

TEST(Paste, OfADiscIsBedGapAndKerfs) {
    // Radius 90: bed 25 446.9 mm3, gap 2 x 14 x 565.49 = 15 833.6 mm3, kerfs 10 % of 13 mm.
    job::Core core;
    core.bed = 1.0;
    core.gap = 2.0;
    const Plug square{disc(90.0), disc(90.0), 13.0, 0.0};
    EXPECT_NEAR(paste_mL(core, square, 0.0), 41.2805, 1e-3);
    EXPECT_NEAR(paste_mL(core, square, 0.1), 41.2805 + 33.0810, 1e-3);
}

TEST(Plug, ThatIsChamferedIsAFrustum) {
    // Closed form, r 90 to R 103 over 13 mm: pi h (R^2 + R r + r^2) / 3; both faces, and pi (R + r)
    // times the slant. The gap goes by the perimeter half way.
    const double pi = std::numbers::pi;
    const Plug plug{disc(90.0), disc(103.0), 13.0, 13.0};
    EXPECT_NEAR(plug_volume(plug), pi * 13.0 / 3.0 * (103.0 * 103.0 + 103.0 * 90.0 + 90.0 * 90.0),
                1e-6);
    EXPECT_NEAR(plug_surface(plug),
                pi * (90.0 * 90.0 + 103.0 * 103.0 + 193.0 * 13.0 * std::sqrt(2.0)), 1e-6);
    job::Core core;
    core.bed = 1.0;
    core.gap = 2.0;
    EXPECT_NEAR(paste_mL(core, plug, 0.1),
                (pi * 8100.0 + 2.0 * 14.0 * pi * 193.0 + 0.1 * plug_volume(plug)) / 1000.0, 1e-9);
}

}  // namespace
}  // namespace tearline::closing
