#include "core/plan/merge_warnings.h"

#include <gtest/gtest.h>

namespace tearline::plan {
namespace {

Warning at_place(const std::string& code, int ply, const Vec3& at) {
    return {code, "sentence of ply " + std::to_string(ply), ply, {}, at};
}

TEST(ToldOnce, JoinsWhatSeveralPliesMeetAtOnePlace) {
    const Warnings told =
        merged({at_place("radius-convex", 1, {0, 0, 0}), at_place("radius-convex", 2, {20, 0, 0}),
                at_place("radius-convex", 3, {40, 0, 0})});
    ASSERT_EQ(told.size(), 1u);
    EXPECT_EQ(told[0].message, "sentence of ply 1; likewise, by its own depth, for ply 2, 3");
    EXPECT_EQ(told[0].ply, 1);
}

TEST(ToldOnce, NamesAPlyOnceWhereSeveralCreasesMeet) {
    const Warnings told = merged(
        {at_place("crease-trimmed", 1, {0, 0, 0}), at_place("crease-trimmed", 1, {9, 0, 0}),
         at_place("crease-trimmed", 2, {0, 0, 0}), at_place("crease-trimmed", 2, {9, 0, 0})});
    ASSERT_EQ(told.size(), 1u);
    EXPECT_EQ(told[0].message, "sentence of ply 1; likewise, by its own depth, for ply 2");
}

TEST(ToldOnce, KeepsApartOtherPlacesOtherCodesAndWarningsWithoutAPlace) {
    const Warnings warnings = {at_place("radius-convex", 1, {0, 0, 0}),
                               at_place("radius-convex", 2, {900, 0, 0}),
                               at_place("crease-opened", 2, {0, 0, 0}),
                               {"test-cup", "mix a test cup", {}, {}, {}},
                               {"test-cup", "mix a test cup", {}, {}, {}}};
    EXPECT_EQ(merged(warnings).size(), warnings.size());
}

TEST(ToldOnce, PliesThatEndWithTheHullAreOneWarningAndTheirCoversAnother) {
    const auto warning = [](const std::string& message, int ply) {
        const bool cover = message.starts_with("cover");
        return Warning{cover ? "cover-cut-at-hull-end" : "cut-at-hull-end", message, ply, {}, {}};
    };
    const Warnings told =
        merged({warning("ply 2 ends where the hull ends: the scarf has no room there", 2),
                warning("ply 3 ends where the hull ends: the scarf has no room there", 3),
                warning("cover ply 4 ends where the hull ends; the scarf under it is whole", 4),
                warning("cover ply 5 ends where the hull ends; the scarf under it is whole", 5),
                warning("cover ply 6 ends where the hull ends; the scarf under it is whole", 6)});
    ASSERT_EQ(told.size(), 2u);
    EXPECT_EQ(told[0].message,
              "ply 2 ends where the hull ends: the scarf has no room there; likewise for ply 3");
    EXPECT_EQ(told[1].message,
              "cover ply 4 ends where the hull ends; the scarf under it is whole; likewise for "
              "ply 5, 6");
}

TEST(ToldOnce, PliesAboveTheSurfaceAreOneWarning) {
    const Warnings told = merged({{"ply-as-cover", "ply 9 starts at 9 mm", 9, {}, {}},
                                  {"ply-as-cover", "ply 10 starts at 10 mm", 10, {}, {}},
                                  {"ply-as-cover", "ply 11 starts at 11 mm", 11, {}, {}}});
    ASSERT_EQ(told.size(), 1u);
    EXPECT_EQ(told.front().message,
              "ply 9 starts at 9 mm; likewise, at its own height, for ply 10, 11");
}

}  // namespace
}  // namespace tearline::plan
