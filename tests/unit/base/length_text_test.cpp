#include "core/base/length_text.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

namespace tearline {
namespace {

// Expected figures by hand: 25.4 mm to the inch (exact), fractions to the marks of the rule.

TEST(LengthText, ShowsMillimetresWithItsDecimals) {
    EXPECT_EQ(length_text(25.0, 1, Units::metric), "25.0 mm");
    EXPECT_EQ(length_text(1204.6, 0, Units::metric), "1205 mm");
}

TEST(LengthText, ShowsThousandthsBelowAnEighth) {
    EXPECT_EQ(length_text(1.05, 2, Units::us), "0.041 in");
    EXPECT_EQ(length_text(3.1, 2, Units::us), "0.122 in");
    EXPECT_EQ(length_text(0.0, 1, Units::us), "0 in");
}

TEST(LengthText, ShowsThirtySecondsBelowSixInches) {
    EXPECT_EQ(length_text(25.4 / 8.0, 1, Units::us), "1/8 in");
    EXPECT_EQ(length_text(6.0, 1, Units::us), "1/4 in");     // 7.56 / 32 is nearest to 8 / 32
    EXPECT_EQ(length_text(25.0, 0, Units::us), "31/32 in");  // 0.984 in = 31.5 / 32, just below
    EXPECT_EQ(length_text(25.4 * 2.53, 0, Units::us), "2 17/32 in");
    EXPECT_EQ(length_text(25.4 * 0.999, 0, Units::us), "1 in");
}

TEST(LengthText, ShowsSixteenthsFromSixInchesOn) {
    EXPECT_EQ(length_text(25.4 * 6.53, 0, Units::us), "6 1/2 in");
    EXPECT_EQ(length_text(25.4 * 50.0, 0, Units::us), "50 in");
    EXPECT_EQ(length_text(25.4 * 11.99, 0, Units::us), "12 in");
}

TEST(LengthText, IsNeverFartherOffThanHalfAMark) {
    for (double mm = 3.2; mm < 400.0; mm += 0.37) {
        const std::string text = length_figure(mm, 1, Units::us);
        double inches = 0.0, whole = 0.0;
        int count = 0, parts = 1;
        if (std::sscanf(text.c_str(), "%lf %d/%d", &whole, &count, &parts) == 3)
            inches = whole + double(count) / parts;
        else if (std::sscanf(text.c_str(), "%d/%d", &count, &parts) == 2)
            inches = double(count) / parts;
        else
            inches = whole;
        EXPECT_LE(std::abs(inches - mm / 25.4), (mm / 25.4 < 6.0 ? 1.0 / 64 : 1.0 / 32) + 1e-12)
            << mm << " as " << text;
    }
}

TEST(LengthText, OfLessThanNothingHasItsSignInFront) {
    EXPECT_EQ(length_text(-25.4 * 1.5, 0, Units::us), "-1 1/2 in");
    EXPECT_EQ(length_text(-0.0, 1, Units::us), "0 in");
}

TEST(ThicknessText, IsInThousandths) {
    EXPECT_EQ(thickness_text(1.0508, 2, Units::metric), "1.05 mm");
    EXPECT_EQ(thickness_text(8.4063, 2, Units::us), "0.331 in");
}

}  // namespace
}  // namespace tearline
