#include "core/plan/merge_warnings.h"

#include <gtest/gtest.h>

namespace tearline::plan {
namespace {

Warning convex(int ply, const Vec3& at) {
    return {.cause = warn::RadiusConvex{{"roving 600", 5.0, 8.0}, 1.0, {}}, .ply = ply, .at = at};
}

Warning trimmed(int ply, const Vec3& at) {
    return {.cause = warn::CreaseTrimmed{{true, 30.0, at}, 0.1 * ply}, .ply = ply, .at = at};
}

Warning of_ply(WarningCause cause, int ply) {
    return {.cause = std::move(cause), .ply = ply};
}

using Plies = std::vector<int>;

TEST(MergeWarnings, JoinsWhatSeveralPliesMeetAtOnePlace) {
    const Warnings told =
        merged({convex(1, {0, 0, 0}), convex(2, {20, 0, 0}), convex(3, {40, 0, 0})});
    ASSERT_EQ(told.size(), 1u);
    EXPECT_EQ(told[0].likewise, (Plies{2, 3}));
    EXPECT_EQ(told[0].ply, 1);
    EXPECT_TRUE(told[0].words().told.ends_with("; likewise, by its own depth, for ply 2, 3"));
}

TEST(MergeWarnings, NamesAPlyOnceWhereSeveralCreasesMeet) {
    const Warnings told = merged({trimmed(1, {0, 0, 0}), trimmed(1, {9, 0, 0}),
                                  trimmed(2, {0, 0, 0}), trimmed(2, {9, 0, 0})});
    ASSERT_EQ(told.size(), 1u);
    EXPECT_EQ(told[0].likewise, Plies{2});
}

TEST(MergeWarnings, KeepsApartOtherPlacesOtherCausesAndWarningsWithoutAPlace) {
    const Warning cup{warn::TestCup{{warn::NoGelTime::Why::not_given}}};
    const Warnings warnings = {convex(1, {0, 0, 0}), convex(2, {900, 0, 0}), trimmed(2, {0, 0, 0}),
                               cup, cup};
    EXPECT_EQ(merged(warnings).size(), warnings.size());
}

TEST(MergeWarnings, PliesThatEndWithTheHullAreOneWarningAndTheirCoversAnother) {
    const warn::CutAtHullEnd end{false};
    const warn::CoverCutAtHullEnd cover{false};
    const Warnings told = merged(
        {of_ply(end, 2), of_ply(end, 3), of_ply(cover, 4), of_ply(cover, 5), of_ply(cover, 6)});
    ASSERT_EQ(told.size(), 2u);
    EXPECT_EQ(told[0].words().told,
              "ply 2 ends where the hull ends: the scarf has no room there; likewise for ply 3");
    EXPECT_EQ(told[1].words().told,
              "cover ply 4 ends where the hull ends; the scarf under it is whole; likewise for "
              "ply 5, 6");
}

TEST(MergeWarnings, AHoleThatNobodyNamedIsNoEndOfTheHull) {
    const warn::CutAtHullEnd end{false}, hole{false, Vec3(1, 2, 3)}, other{false, Vec3(9, 2, 3)};
    const Warnings told =
        merged({of_ply(end, 2), of_ply(hole, 2), of_ply(hole, 3), of_ply(other, 3)});
    ASSERT_EQ(told.size(), 3u);
    EXPECT_EQ(told[1].likewise, Plies{3});
}

TEST(MergeWarnings, PliesAboveTheSurfaceAreOneWarning) {
    const Warnings told = merged({of_ply(warn::PlyAsCover{9.0, 8.0, false}, 9),
                                  of_ply(warn::PlyAsCover{10.0, 8.0, false}, 10),
                                  of_ply(warn::PlyAsCover{11.0, 8.0, false}, 11)});
    ASSERT_EQ(told.size(), 1u);
    EXPECT_EQ(told.front().likewise, (Plies{10, 11}));
}

}  // namespace
}  // namespace tearline::plan
