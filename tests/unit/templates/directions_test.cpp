#include "core/templates/directions.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>

#include "core/templates/axis_words.h"

namespace tearline::templates {
namespace {

const Vec3 bow(1, 0, 0), up(0, 0, 1), starboard(0, -1, 0);

/// The frame of a flat place, by hand from the definition: y = up (the bow on a bottom or deck),
/// x = y x n; axes from the bow, on a transom from starboard.
damage::FlatFrame frame_on(const Vec3& normal) {
    damage::FlatFrame frame;
    frame.normal = normal;
    frame.y_is_up = std::abs(normal.z()) < 0.5;
    frame.y = frame.y_is_up ? up : bow;
    frame.x = frame.y.cross(normal);
    frame.axis_from_is_bow = std::abs(normal.x()) < 0.5;
    frame.axis_from = frame.axis_from_is_bow ? bow : starboard;
    return frame;
}

Directions on(const Vec3& normal) {
    return directions(frame_on(normal), bow, up);
}

using Ends = std::array<std::string, 4>;

// Expected by standing there: right, top, left, bottom of what one sees.

TEST(Directions, OnASideUpIsAtTheTopAndTheBowWhereItIsSeen) {
    EXPECT_EQ(on(starboard).ends, (Ends{"bow", "up", "aft", "down"}));
    EXPECT_EQ(on(-starboard).ends, (Ends{"aft", "up", "bow", "down"}));
    EXPECT_NEAR((*on(-starboard).bow - Vec2(-1, 0)).norm(), 0.0, 1e-12);
    EXPECT_NEAR((*on(-starboard).up - Vec2(0, 1)).norm(), 0.0, 1e-12);
}

TEST(Directions, OnABottomOrDeckTheBowIsAtTheTop) {
    EXPECT_EQ(on(-up).ends, (Ends{"port", "bow", "starboard", "aft"}));
    EXPECT_EQ(on(up).ends, (Ends{"starboard", "bow", "port", "aft"}));
    EXPECT_FALSE(on(up).up);
    EXPECT_NEAR((*on(up).bow - Vec2(0, 1)).norm(), 0.0, 1e-12);
}

TEST(Directions, OnATransomStarboardTakesTheBowsPlace) {
    EXPECT_EQ(on(-bow).ends, (Ends{"starboard", "up", "port", "down"}));
    EXPECT_EQ(on(bow).ends, (Ends{"port", "up", "starboard", "down"}));
    EXPECT_FALSE(on(bow).bow);
    EXPECT_NEAR((*on(bow).starboard - Vec2(-1, 0)).norm(), 0.0, 1e-12);
}

// Expected by turning the bow direction counter-clockwise as seen from the laying side.

TEST(AxisWords, SayWhetherTheWarpRisesOrFallsOnEitherSide) {
    const auto warp = job::FabricKind::woven;
    EXPECT_EQ(axis_words(on(starboard), warp, 30), "warp 30 degrees UP from the bow");
    EXPECT_EQ(axis_words(on(-starboard), warp, 30), "warp 30 degrees DOWN from the bow");
    EXPECT_EQ(axis_words(on(-starboard), warp, -45), "warp 45 degrees UP from the bow");
    EXPECT_EQ(axis_words(on(-up), warp, 30), "warp 30 degrees TO STARBOARD from the bow");
    EXPECT_EQ(axis_words(on(up), warp, 30), "warp 30 degrees TO PORT from the bow");
    EXPECT_EQ(axis_words(on(-bow), warp, 30), "warp 30 degrees UP from starboard");
    EXPECT_EQ(axis_words(on(bow), warp, 30), "warp 30 degrees DOWN from starboard");
}

TEST(AxisWords, ALineHasNoFront) {
    const auto warp = job::FabricKind::woven;
    EXPECT_EQ(axis_words(on(starboard), warp, 0), "warp FORE AND AFT");
    EXPECT_EQ(axis_words(on(starboard), warp, -180), "warp FORE AND AFT");
    EXPECT_EQ(axis_words(on(starboard), warp, 120), "warp 60 degrees DOWN from the bow");
    EXPECT_EQ(axis_words(on(starboard), warp, 270), "warp UP AND DOWN, square to the bow");
    EXPECT_EQ(axis_words(on(up), job::FabricKind::biaxial, 90),
              "roll length PORT TO STARBOARD, square to the bow");
    EXPECT_EQ(axis_words(on(up), job::FabricKind::mat, 90), "");
}

}  // namespace
}  // namespace tearline::templates
