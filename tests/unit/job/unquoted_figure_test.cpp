#include "core/job/unquoted_figure.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace tearline::job {
namespace {

std::string said(std::string_view line) {
    return unquoted_figure(line).value_or("");
}

TEST(UnquotedFigure, SaysWhereTheQuotesBelong) {
    // By hand: what a person writes when TOML is new to them.
    EXPECT_EQ(said("radius = 25 mm"),
              "value 25 mm: a figure with its unit stands in quotes: \"25 mm\"");
    EXPECT_EQ(said("weight = 450 g/m2"),
              "value 450 g/m2: a figure with its unit stands in quotes: \"450 g/m2\"");
    EXPECT_EQ(said("at = [10 mm, 20]"),
              "value 10 mm: a figure with its unit stands in quotes: \"10 mm\"");
    EXPECT_EQ(said("gel_at = {temperature = 20 C, percent = 2}"),
              "value 20 C: a figure with its unit stands in quotes: \"20 C\"");
}

TEST(UnquotedFigure, TakesOtherQuotesRoundAnInchMark) {
    EXPECT_EQ(said("radius = 3\""), "value 3\": a figure with its unit stands in quotes: '3\"'");
}

TEST(UnquotedFigure, KnowsFractionsAndPercentSigns) {
    EXPECT_NE(said("hardener_parts = 2/1").find("two numbers as [2, 1]"), std::string::npos);
    EXPECT_NE(said("depth = 3/4").find("\"3/4 in\""), std::string::npos);
    EXPECT_EQ(said("hardener_percent = 2%"),
              "value 2%: write the number of percent without the sign");
}

TEST(UnquotedFigure, KeepsQuietAboutGoodLines) {
    for (const char* line : {"radius = 25", "radius = \"25 mm\"", "title = '6 m workboat'",
                             "# 25 mm of it", "radius = 25 # 25 mm of it",
                             "stack = [\"mat 450\", {fabric = \"roving 600\", axis = -30}]",
                             "[damage]", "", "depth = -4.2", "at = [1.5, 2.5]"})
        EXPECT_EQ(said(line), "") << line;
}

}  // namespace
}  // namespace tearline::job
