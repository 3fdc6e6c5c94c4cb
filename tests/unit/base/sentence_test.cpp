#include "core/base/sentence.h"

#include <gtest/gtest.h>

namespace tearline {
namespace {

TEST(Sentence, OfPlainTextSaysTheSameToEveryReader) {
    const Sentence said("warm the shop");
    EXPECT_EQ(said.told, "warm the shop");
    EXPECT_EQ(said.plain(Units::metric), "warm the shop");
    EXPECT_EQ(said.plain(Units::us), "warm the shop");
}

TEST(Sentence, IsJoinedReaderByReader) {
    // By hand: 25.4 mm to the inch, so 76.2 mm are 3 in.
    Sentence said = plainly("hull.skin ", "the skin of ") + said_length(76.2, 1) + " is thin";
    EXPECT_EQ(said.told, "hull.skin 76.2 mm is thin");
    EXPECT_EQ(said.metric, "the skin of 76.2 mm is thin");
    EXPECT_EQ(said.us, "the skin of 3 in is thin");
    said += plainly(", says [hull]", "");
    EXPECT_EQ(said.told, "hull.skin 76.2 mm is thin, says [hull]");
    EXPECT_EQ(said.us, "the skin of 3 in is thin");
}

TEST(SaidLength, IsToldAsItWasGivenAndShownToAHundredth) {
    // A key's figure comes back as it was written; sheets show no more than 0.01 mm.
    const Sentence said = said_length(4.203125);
    EXPECT_EQ(said.told, "4.203125 mm");
    EXPECT_EQ(said.metric, "4.2 mm");
    EXPECT_EQ(said.us, "5/32 in");  // 0.1655 in = 5.3 / 32
    EXPECT_EQ(said_length(6.0).metric, "6 mm");
    EXPECT_EQ(said_length(0.125).metric, "0.13 mm");
}

TEST(SaidLength, WithDecimalsKeepsThem) {
    EXPECT_EQ(said_length(6.0, 2).told, "6.00 mm");
    EXPECT_EQ(said_length(304.8, 0).us, "12 in");
}

TEST(SaidThickness, IsInThousandthsOfAnInch) {
    // By hand: 1.0508 / 25.4 = 0.04137.
    EXPECT_EQ(said_thickness(1.0508, 2).told, "1.05 mm");
    EXPECT_EQ(said_thickness(1.0508, 2).us, "0.041 in");
}

}  // namespace
}  // namespace tearline
