#include "core/damage/outline_bulge.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/loops.h"

namespace tearline::damage {
namespace {

const Loop2 circle = test::circle(30.0, {0, 0}, 720);

TEST(OutlineBulge, CircleThroughFourPointsIsWarnedOf) {
    // Closed form: 30 (1 - cos 45) = 8.8 mm outside the square, 0.15 of its extent of 60 mm; the
    // disc holds pi / 2 times what the square holds, 57 % more.
    const Warnings warnings = bulge_warnings(test::circle(30.0, {0, 0}, 4), circle);
    ASSERT_EQ(warnings.size(), 1u);
    EXPECT_EQ(warnings.front().code(), "outline-bulges");
    for (const char* words : {"8.8 mm", "57 %", "damage.join = \"straight\""})
        EXPECT_NE(warnings.front().words().told.find(words), std::string::npos) << words;
}

TEST(OutlineBulge, CircleThroughSixPointsIsNot) {
    // Closed form: 30 (1 - cos 30) = 4.0 mm, 0.067 of 60 mm.
    EXPECT_TRUE(bulge_warnings(test::circle(30.0, {0, 0}, 6), circle).empty());
}

TEST(OutlineBulge, ADiscHasNoPointsToBulgeFrom) {
    EXPECT_TRUE(bulge_warnings({}, circle).empty());
}

}  // namespace
}  // namespace tearline::damage
