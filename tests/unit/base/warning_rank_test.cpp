#include "core/base/warning_rank.h"

#include <gtest/gtest.h>

#include <set>

namespace tearline {
namespace {

TEST(WarningRank, WhatComesOnEveryJobIsNotRankedWithWhatMustBeDecided) {
    // The issue's own examples (common practice): nominal glass contents, test cup and topcoat's
    // percentage come on every job; a weak patch and a short scarf do not.
    for (const char* code : {"resin-range", "test-cup", "topcoat-hardener-assumed"})
        EXPECT_NE(warning_rank(code), WarningRank::stop) << code;
    for (const char* code : {"patch-weaker", "scarf-short", "emulsion-mat-in-epoxy"})
        EXPECT_EQ(warning_rank(code), WarningRank::stop) << code;
}

TEST(WarningRank, ACodeWithoutARowRanksHighest) {
    EXPECT_FALSE(has_rank("never-heard-of"));
    EXPECT_EQ(warning_rank("never-heard-of"), WarningRank::stop);
}

TEST(WarningRank, NoCodeHasTwoRows) {
    const auto codes = ranked_codes();
    EXPECT_EQ(std::set(codes.begin(), codes.end()).size(), codes.size());
}

TEST(WarningRank, CountsByRankTheGravestFirst) {
    const Warnings warnings = {warning_of("resin-range", "a"), warning_of("test-cup", "b"),
                               warning_of("scarf-short", "c"), warning_of("test-cup", "d")};
    EXPECT_EQ(counted_by_rank(warnings), "1 to stop and decide, 2 to do, 1 to know");
    EXPECT_EQ(counted_by_rank({}), "");
    EXPECT_EQ(highest_rank(warnings), WarningRank::stop);
    EXPECT_EQ(highest_rank({warnings[0], warnings[1]}), WarningRank::act);
}

TEST(Warning, IsToldWithKeysAndShownInPlainWords) {
    // By hand: 25.4 mm are an inch.
    Warning warning = warning_of("no-floor", plainly("damage.depth ", "the depth, ") +
                                                 said_length(25.4, 1) + ", is too much");
    EXPECT_EQ(warning.message, "damage.depth 25.4 mm, is too much");
    EXPECT_EQ(plain_words(warning, Units::metric), "the depth, 25.4 mm, is too much");
    EXPECT_EQ(plain_words(warning, Units::us), "the depth, 1 in, is too much");
    say_more(warning, "; again");
    EXPECT_EQ(warning.message, "damage.depth 25.4 mm, is too much; again");
    EXPECT_EQ(plain_words(warning, Units::us), "the depth, 1 in, is too much; again");
}

TEST(Warning, ShowsALengthAsGivenButNoFigureThatNobodyMeasured) {
    const Sentence said = said_length(6.3046875);
    EXPECT_EQ(said.told, "6.3046875 mm");
    EXPECT_EQ(said.metric, "6.3 mm");
    EXPECT_EQ(said.us, "1/4 in");
}

TEST(Warning, WithoutPlainWordsShowsItsMessage) {
    const Warning warning{"no-floor", "as it is", {}, {}, {}};
    EXPECT_EQ(plain_words(warning, Units::us), "as it is");
}

}  // namespace
}  // namespace tearline
