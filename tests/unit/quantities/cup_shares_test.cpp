#include "core/quantities/cup_shares.h"

#include <gtest/gtest.h>

namespace tearline::quantities {
namespace {

/// A ground of 0.5 m2 to prime with 60 g and two plies of 120 and 60 g, 1 m2 each.
Quantities three_layers() {
    Quantities repair;
    repair.totals.prime_g = 60.0;
    repair.totals.ground_area_m2 = 0.5;
    for (const double resin : {120.0, 60.0}) {
        PlyAmounts ply;
        ply.ply = static_cast<int>(repair.plies.size()) + 1;
        ply.resin_g = resin;
        ply.glass_area_mm2 = 1e6;
        repair.plies.push_back(ply);
    }
    return repair;
}

Stage stage_of(std::vector<int> plies, std::size_t cups, double each) {
    Stage stage;
    if (plies.empty()) stage.of = Stage::Of::ground;
    stage.plies = std::move(plies);
    stage.cups.assign(cups, Cup{});
    for (Cup& cup : stage.cups) cup.resin_g = each;
    return stage;
}

TEST(CupShares, FollowTheLayersInTheOrderOfLaying) {
    // By hand, with a tenth of waste: 198 g in two cups of 99 are 90 g each on the plies, so the
    // first wets three quarters of ply 1, the second the rest and ply 2.
    Quantities repair = three_layers();
    repair.stages = {stage_of({}, 1, 66.0), stage_of({1, 2}, 2, 99.0)};
    const auto prime = cup_shares(repair, 0), cups = cup_shares(repair, 1);
    ASSERT_EQ(prime.size(), 1u);
    ASSERT_EQ(prime[0].size(), 1u);
    EXPECT_EQ(prime[0][0].ply, 0);
    EXPECT_DOUBLE_EQ(prime[0][0].area_m2, 0.5);
    ASSERT_EQ(cups.size(), 2u);
    ASSERT_EQ(cups[0].size(), 1u);
    EXPECT_EQ(cups[0][0].ply, 1);
    EXPECT_NEAR(cups[0][0].to, 0.75, 1e-12);
    EXPECT_NEAR(cups[0][0].area_m2, 0.75, 1e-12);
    ASSERT_EQ(cups[1].size(), 2u);
    EXPECT_NEAR(cups[1][0].from, 0.75, 1e-12);
    EXPECT_EQ(cups[1][1].ply, 2);
    EXPECT_NEAR(cups[1][1].to, 1.0, 1e-12);
}

TEST(CupShares, PrimeTheGroundFirstWhereTheFirstStageHoldsIt) {
    // By hand: 240 g on three layers from four cups of 66 g, 60 g each on them.
    Quantities repair = three_layers();
    repair.stages = {stage_of({1, 2}, 4, 66.0)};
    repair.stages.front().primes_g = 66.0;
    const auto cups = cup_shares(repair, 0);
    ASSERT_EQ(cups.size(), 4u);
    const std::vector<int> expected = {0, 1, 1, 2};
    for (std::size_t i = 0; i < cups.size(); ++i) {
        ASSERT_EQ(cups[i].size(), 1u) << i;
        EXPECT_EQ(cups[i][0].ply, expected[i]);
    }
    EXPECT_NEAR(stage_area(repair, 0).value(), 2.5, 1e-12);
}

TEST(CupShares, OfAllCupsAreTheWholeOfEachLayer) {
    Quantities repair = three_layers();
    repair.stages = {stage_of({1, 2}, 7, 264.0 / 7.0)};
    repair.stages.front().primes_g = 66.0;
    std::array<double, 3> whole = {0.0, 0.0, 0.0};
    for (const auto& cup : cup_shares(repair, 0))
        for (const CupShare& share : cup) whole[share.ply] += share.to - share.from;
    for (const double share : whole) EXPECT_NEAR(share, 1.0, 1e-9);
}

}  // namespace
}  // namespace tearline::quantities
