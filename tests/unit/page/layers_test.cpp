#include "core/page/layers.h"

#include <gtest/gtest.h>

namespace tearline::page {
namespace {

templates::LaidPly ply(int number, double z) {
    templates::LaidPly made;
    made.number = number;
    made.fabric = "mat 450";
    made.thickness_mm = 1.05;
    made.pieces.resize(1);
    made.pieces[0].piece.lay.position = {{0, 0, z}, {50, 0, z}, {0, 50, z}};
    return made;
}

plan::Place face(double z, double towards) {
    plan::Place place;
    place.frame.middle = Vec3(0, 0, z);
    place.frame.normal = Vec3(0, 0, towards);
    return place;
}

TEST(Layers, LieOneOnTheOtherInTheOrderOfLaying) {
    Plan plan;
    plan.plies = {ply(1, -2.0), ply(2, -1.0)};
    plan.plies[1].cover = true;
    const auto layers = layers_of(plan);
    ASSERT_EQ(layers.size(), 2u);
    EXPECT_EQ(layers[0].id, "1");
    EXPECT_EQ(layers[0].words, "mat 450, 1.05 mm");
    EXPECT_EQ(layers[1].words, "mat 450, cover, 1.05 mm");
    EXPECT_EQ(layers[0].height, 0);
    EXPECT_EQ(layers[1].height, 1);
    EXPECT_EQ(layers[0].below_mm, 0.0) << "one dish: every ply is seen in it as it lies";
}

TEST(Layers, OfTwoSidesLieBelowTheOtherAndUnderTheirOwnFace) {
    // A skin from z 0 to -8, laid from inside (towards -z) first, then from outside: the plan's own
    // place is the outside. Plies at z -5 and -3 lie 3 mm under the inside face at -8 and 3 mm
    // under the outside one.
    Plan plan;
    plan.place = face(0.0, 1.0);
    plan.plies = {ply(1, -5.0), ply(2, -3.0)};
    plan.parts.resize(2);
    plan.parts[0].place = face(-8.0, -1.0);
    plan.parts[0].plies = {plan.plies[0]};
    plan.parts[1].place = face(0.0, 1.0);
    plan.parts[1].plies = {plan.plies[1]};
    const auto layers = layers_of(plan);
    ASSERT_EQ(layers.size(), 2u);
    EXPECT_EQ(layers[0].height, -1);
    EXPECT_EQ(layers[1].height, 0);
    EXPECT_EQ(layers[0].towards, Vec3(0, 0, -1));
    EXPECT_NEAR(layers[0].below_mm, 3.0, 1e-12);
    EXPECT_NEAR(layers[1].below_mm, 3.0, 1e-12);
}

TEST(Layers, BeginWithTheBackingAndHaveTheCoreUnderTheSkinOverIt) {
    Plan plan;
    plan.place = face(0.0, 1.0);
    plan.parts.resize(2);
    plan.parts[0].place = face(-23.0, 1.0);
    plan.parts[0].plies = {ply(1, -24.0)};
    plan.parts[1].place = face(0.0, 1.0);
    plan.parts[1].plies = {ply(2, -1.0)};
    plan.plies = {plan.parts[0].plies[0], plan.parts[1].plies[0]};
    plan.backing = plan::BackingPlan{};
    plan.backing->kind = job::BackingKind::petals;
    plan.backing->thickness_mm = 3.0;
    plan.backing->pieces = {ply(0, -27.0)};
    plan.core = plan::CorePlan{};
    plan.core->plug_mm = 18.5;
    plan.core->pieces = {ply(0, -12.0)};
    auto layers = layers_of(plan);
    ASSERT_EQ(layers.size(), 4u);
    EXPECT_EQ(layers[0].words, "sheet cut into petals, 3.00 mm, taken out again");
    EXPECT_TRUE(layers[0].closes);
    EXPECT_EQ(layers[1].id, "1");
    EXPECT_EQ(layers[2].words, "plug, 18.50 mm");
    EXPECT_EQ(layers[3].id, "2");
    EXPECT_FALSE(layers[3].closes);
    // Both faces look the same way: all are lifted from the outermost one, at z 0.
    EXPECT_NEAR(layers[0].below_mm, 27.0, 1e-12);
    EXPECT_NEAR(layers[1].below_mm, 24.0, 1e-12);
    plan.backing->stays = true;
    plan.backing->kind = job::BackingKind::sheet;
    plan.backing->thickness_mm = std::nullopt;
    EXPECT_EQ(layers_of(plan)[0].words, "sheet, stays");
}

TEST(Layers, SayThicknessesInThousandthsOfAnInch) {
    // 18.5 mm are 0.728 in; the nearest 1/32 would be 23/32, 0.24 mm thinner than the plug.
    Plan plan;
    plan.job.display_units = Units::us;
    plan.plies = {ply(1, -1.0)};
    plan.core = plan::CorePlan{};
    plan.core->plug_mm = 18.5;
    plan.core->pieces = {ply(0, -12.0)};
    const auto layers = layers_of(plan);
    EXPECT_EQ(layers[0].words, "plug, 0.728 in");
    EXPECT_EQ(layers[1].words, "mat 450, 0.041 in");
}

TEST(Layers, OfWhatIsOnlyLaidFlatNameTheClothAlone) {
    Plan plan;
    plan.plies = {ply(1, 0.0)};
    plan.flat = plan::FlatAsked{};
    plan.flat->cloth = "mat";
    EXPECT_EQ(layers_of(plan)[0].id, "flat");
    EXPECT_EQ(layers_of(plan)[0].words, "any sheet that gives like mat");
    plan.flat->cloth = "mat 450";
    EXPECT_EQ(layers_of(plan)[0].words, "mat 450");
}

TEST(Outermost, IsTheFaceFarthestOutOfThoseThatLookThatWay) {
    Plan plan;
    plan.parts.resize(3);
    plan.parts[0].place = face(-23.0, 1.0);
    plan.parts[1].place = face(0.0, 1.0);
    plan.parts[2].place = face(-30.0, -1.0);
    EXPECT_EQ(&outermost(plan, {0, 0, 1}), &plan.parts[1].place);
    EXPECT_EQ(&outermost(plan, {0, 0, -1}), &plan.parts[2].place);
    EXPECT_EQ(&outermost(plan, {1, 0, 0}), &plan.place) << "none looks that way";
}

}  // namespace
}  // namespace tearline::page
