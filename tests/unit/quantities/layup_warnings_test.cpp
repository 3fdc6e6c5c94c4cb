#include "core/quantities/layup_warnings.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/unit/quantities/planned_discs.h"

namespace tearline::quantities {
namespace {

/// Plies of a stack over a dish of a depth, each reaching as far as 12:1 lets it.
HandMade stacked(const std::vector<std::string>& fabrics, double depth, std::size_t covers = 0) {
    HandMade plan;
    plan.job.fabrics = job::built_in_fabrics();
    plan.job.resin.hardener_percent = 1.25;
    plan.job.damage.depth = depth;
    plan.dish = {{0.0, depth}, {12.0 * depth, 0.0}};
    double height = 0.0;
    for (std::size_t i = 0; i < fabrics.size(); ++i) {
        const job::Fabric& fabric = plan.job.fabrics.at(fabrics[i]);
        templates::LaidPly ply;
        ply.number = static_cast<int>(i) + 1;
        ply.fabric = fabrics[i];
        ply.kind = fabric.kind;
        ply.thickness_mm = laminate::ply_thickness(fabric, plan.job.resin);
        height += ply.thickness_mm;
        ply.cover = i + covers >= fabrics.size();
        ply.edge_offset_mm =
            12.0 * std::min(height, depth) + (ply.cover ? 25.0 * double(i + 1) : 0.0);
        plan.plies.push_back(ply);
    }
    return plan;
}

Warnings warnings_of(const HandMade& plan) {
    return layup_warnings(plan.repair(), sanding_of(plan.repair()));
}

std::vector<std::string> codes(const HandMade& plan) {
    std::vector<std::string> out;
    for (const Warning& warning : warnings_of(plan)) out.emplace_back(warning.code());
    return out;
}

TEST(LayupSense, TwoCoversAreSandedAndTheStackStays) {
    // By hand: eight mats of 1.05078 mm fill 8.40625 mm; two mats 300 of 0.70052 mm are sanded off.
    const HandMade plan = stacked({"mat 450", "mat 450", "mat 450", "mat 450", "mat 450", "mat 450",
                                   "mat 450", "mat 450", "mat 300", "mat 300"},
                                  8.40625, 2);
    EXPECT_NEAR(sanding_of(plan.repair()).sanding_mm, 2 * 0.70052, 1e-4);
    EXPECT_NEAR(sanding_of(plan.repair()).kept_mm, 8.40625, 1e-9);
    EXPECT_EQ(sanding_of(plan.repair()).kept_plies, 8);
    EXPECT_EQ(sanding_of(plan.repair()).plies_over_ground,
              3);  // the top of the stack and both covers
    EXPECT_TRUE(codes(plan).empty());
}

TEST(LayupSense, CuredPliesLieUnderWhatIsLaidOnThem) {
    // By hand: five mats of 1.05078 mm on 3.2 mm that are cured come to 8.4539 mm, 0.0477 mm over
    // the surface; the last one stays for the most part.
    HandMade plan = stacked({"mat 450", "mat 450", "mat 450", "mat 450", "mat 450"}, 8.40625);
    EXPECT_EQ(sanding_of(plan.repair()).sanding_mm, 0.0);
    plan.built_mm = 3.2;
    EXPECT_NEAR(sanding_of(plan.repair()).sanding_mm, 0.0477, 1e-4);
    EXPECT_NEAR(sanding_of(plan.repair()).kept_mm, 8.40625, 1e-9);
    EXPECT_EQ(sanding_of(plan.repair()).kept_plies, 5);
}

TEST(LayupSense, TheFairSurfaceLiesWhereSoundingsPutIt) {
    // By hand: five mats of 1.05078 mm in a dish that was sounded 5 mm deep, 0.2539 mm over it;
    // half way 1.5 mm are left over 3.2 mm, 0.4 mm less than the job says.
    HandMade plan = stacked({"mat 450", "mat 450", "mat 450", "mat 450", "mat 450"}, 5.1);
    plan.volumes = DishVolumes{};
    plan.volumes->deepest_mm = 5.0;
    EXPECT_NEAR(sanding_of(plan.repair()).sanding_mm, 0.2539, 1e-4);
    plan.plies.resize(2);
    plan.volumes->deepest_mm = 1.5;
    plan.built_mm = 3.2;
    EXPECT_NEAR(sanding_of(plan.repair()).floor_mm, 4.7, 1e-12);
    EXPECT_NEAR(sanding_of(plan.repair()).sanding_mm, 0.6016, 1e-4);
}

TEST(LayupSense, FinalTopcoatLeavesLessGlass) {
    HandMade plan = stacked({"mat 450", "mat 450", "mat 450", "mat 450"}, 4.203125);
    plan.job.topcoat.final_coat = true;
    // By hand: the fair surface of the glass lies 0.508 mm lower, and so much is sanded.
    EXPECT_NEAR(sanding_of(plan.repair()).sanding_mm, 0.508, 1e-6);
    EXPECT_NEAR(sanding_of(plan.repair()).kept_mm, 4.203125 - 0.508, 1e-6);
}

TEST(LayupSense, RovingStraightOnGroundGlassIsNamed) {
    // 0.776042 + 1.050781 mm fill the dish; a cover lies over all.
    const HandMade plan = stacked({"roving 600", "mat 450", "mat 450"}, 1.826823, 1);
    const Warnings found = warnings_of(plan);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].code(), "roving-on-ground");
    EXPECT_EQ(found[0].ply, 1);
}

TEST(LayupSense, TwoRovingsWithoutMatBetweenAreNamed) {
    const auto found =
        warnings_of(stacked({"mat 450", "roving 600", "roving 800", "mat 300"}, 2.8, 1));
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].code(), "rovings-without-mat");
    EXPECT_EQ(found[0].ply, 3);
    EXPECT_TRUE(
        codes(stacked({"mat 450", "roving 600", "mat 450", "roving 600", "mat 300"}, 3.6, 1))
            .empty());
}

TEST(LayupSense, TheSameRovingsOnEachOtherAreOneWarningThatCountsThePlies) {
    const auto found = warnings_of(stacked(
        {"mat 450", "roving 600", "roving 600", "roving 600", "roving 600", "mat 300"}, 4.2, 1));
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].ply, 3);
    EXPECT_NE(found[0].words().told.find("; likewise ply 4, 5"), std::string::npos)
        << found[0].words().told;
}

TEST(LayupSense, EpoxyBondsClothToCloth) {
    HandMade plan = stacked({"roving 600", "roving 600", "roving 600"}, 1.6, 1);
    plan.job.resin.kind = job::ResinKind::epoxy;
    EXPECT_TRUE(codes(plan).empty());
}

TEST(LayupSense, TwoFreshLayersMustStayOverGroundGlass) {
    // One thick ply in a shallow dish, nothing over it.
    EXPECT_EQ(codes(stacked({"mat 600"}, 1.4)), std::vector<std::string>{"few-fresh-layers"});
    // Two stay over the floor, but only one reaches to the end of the scarf.
    EXPECT_EQ(codes(stacked({"mat 450", "mat 450"}, 2.1015625)),
              std::vector<std::string>{"few-fresh-layers"});
    EXPECT_TRUE(codes(stacked({"mat 450", "mat 450", "mat 300"}, 2.1015625, 1)).empty());
    EXPECT_TRUE(warnings_of(stacked({"mat 600"}, 1.4))
                    .front()
                    .words()
                    .told.starts_with("1 fresh layer stays over the floor"));
}

}  // namespace
}  // namespace tearline::quantities
