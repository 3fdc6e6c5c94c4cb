#include "core/warnings/warning.h"

#include <gtest/gtest.h>

namespace tearline {
namespace {

TEST(Warning, WhatComesOnEveryJobIsNotRankedWithWhatMustBeDecided) {
    // The issue's own examples (common practice): nominal glass contents, test cup and topcoat's
    // percentage come on every job; a weak patch and a short scarf do not.
    for (const WarningCode& code :
         {warn::ResinRange::code, warn::TestCup::code, warn::TopcoatHardenerAssumed::code})
        EXPECT_NE(code.rank, WarningRank::stop) << code.name;
    for (const WarningCode& code :
         {warn::PatchWeaker::code, warn::ScarfShort::code, warn::EmulsionMatInEpoxy::code})
        EXPECT_EQ(code.rank, WarningRank::stop) << code.name;
}

TEST(Warning, CountsByRankTheGravestFirst) {
    const Warning range{warn::ResinRange{true, Grams(100.0)}};
    const Warning cup{warn::TestCup{{warn::NoGelTime::Why::not_given}}};
    const Warning scarf{warn::ScarfShort{"too short"}};
    EXPECT_EQ(counted_by_rank({range, cup, scarf, cup}),
              "1 to stop and decide, 2 to do, 1 to know");
    EXPECT_EQ(counted_by_rank({}), "");
    EXPECT_EQ(highest_rank({range, cup, scarf}), WarningRank::stop);
    EXPECT_EQ(highest_rank({range, cup}), WarningRank::act);
    EXPECT_EQ(scarf.code(), "scarf-short");
}

TEST(Warning, IsToldWithKeysAndShownInPlainWords) {
    // By hand: 25.4 mm are an inch, 25.4 - 25 = 0.4 mm are 16 thousandths.
    const Warning thin{warn::FloorThin{.depth = 25.0, .skin = 25.4}};
    EXPECT_TRUE(thin.words().told.starts_with(
        "damage.depth 25 mm leaves 0.40 mm of hull.skin 25.4 mm as a floor"))
        << thin.words().told;
    EXPECT_NE(thin.words().plain(Units::us).find("leaves 0.016 in of the skin of 1 in as a floor"),
              std::string::npos)
        << thin.words().plain(Units::us);
}

TEST(Warning, TellsTheOtherPliesThatItIsAsTrueOf) {
    Warning end{.cause = warn::CutAtHullEnd{false}, .ply = 2};
    EXPECT_EQ(end.words().told, "ply 2 ends where the hull ends: the scarf has no room there");
    EXPECT_EQ(end.words().subject, "ply 2");
    EXPECT_EQ(end.words().plain(Units::metric), end.words().told);
    end.likewise = {3, 5};
    EXPECT_EQ(end.words().told,
              "ply 2 ends where the hull ends: the scarf has no room there; likewise for ply 3, 5");
    end.cause = warn::CutAtHullEnd{true};
    end.likewise.clear();
    EXPECT_EQ(end.words().told,
              "ply 2 ends where the measuring ends: unless the hull itself ends there, "
              "measure farther out and plan again");
}

TEST(Warning, OfSeveralPliesSaysWhatDiffersBetweenThem) {
    const Warning trimmed{.cause = warn::CreaseTrimmed{{true, 30.0, {1.0, 2.0, 3.0}}, 0.25},
                          .ply = 1,
                          .at = Vec3(1.0, 2.0, 3.0),
                          .likewise = {2}};
    EXPECT_EQ(trimmed.words().told,
              "a convex crease (radius 0 mm, turn 30.0 degrees) near (1.0, 2.0, 3.0) mm: at the "
              "ply's depth its girth is shorter by 0.25 mm, which the template allows for; "
              "likewise, by its own depth, for ply 2");
    const Warning high{.cause = warn::PlyAsCover{9.0, 8.0, false}, .ply = 9, .likewise = {10, 11}};
    EXPECT_TRUE(high.words().told.starts_with("layup.stack: ply 9 starts at 9.00 mm"))
        << high.words().told;
    EXPECT_TRUE(high.words().plain(Units::metric).starts_with("ply 9 starts at 9.00 mm"));
    EXPECT_TRUE(high.words().told.ends_with("; likewise, at its own height, for ply 10, 11"));
}

TEST(Sentence, ShowsALengthAsGivenButNoFigureThatNobodyMeasured) {
    const Sentence said = said_length(6.3046875);
    EXPECT_EQ(said.told, "6.3046875 mm");
    EXPECT_EQ(said.metric, "6.3 mm");
    EXPECT_EQ(said.us, "1/4 in");
}

TEST(Sentence, IsToldWithKeysAndShownInPlainWords) {
    // By hand: 25.4 mm are an inch.
    const Sentence said = plainly("damage.depth ", "the depth, ") + said_length(25.4, 1) + ", more";
    EXPECT_EQ(said.told, "damage.depth 25.4 mm, more");
    EXPECT_EQ(said.plain(Units::metric), "the depth, 25.4 mm, more");
    EXPECT_EQ(said.plain(Units::us), "the depth, 1 in, more");
}

}  // namespace
}  // namespace tearline
