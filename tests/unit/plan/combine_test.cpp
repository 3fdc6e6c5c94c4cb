#include "core/plan/combine.h"

#include <gtest/gtest.h>

#include "core/job/fabric_catalogue.h"
#include "core/plan/cut_pieces.h"

namespace tearline::plan {
namespace {

job::Job hole_job() {
    job::Job job;
    job.fabrics = job::built_in_fabrics();
    job.fabrics.at("mat 450").thickness = 1.0;
    job.hull.skin = 4.0;
    job.scarf.grind_back = 0.5;
    job.damage.through = true;
    job.resin.hardener_percent = 1.25;
    return job;
}

templates::LaidPiece square_piece(const std::string& id, double side, double axis = 0.0) {
    templates::LaidPiece piece;
    piece.piece.id = id;
    piece.outline.net.outer = {{0, 0}, {side, 0}, {side, side}, {0, side}};
    piece.outline.area_mm2 = side * side;
    piece.outline.axis_degrees = axis;
    return piece;
}

/// A side of a hole: so many plies of mat of 1 mm, the last one a cover.
Plan side_of(job::Side side, int first, int plies) {
    Plan part;
    part.job = hole_job();
    part.job.damage.side = side;
    part.job.part.name = side == job::Side::outside ? "from outside" : "from inside";
    for (int i = 0; i < plies; ++i) {
        templates::LaidPly ply;
        ply.number = first + i;
        ply.fabric = "mat 450";
        ply.cover = i + 1 == plies;
        ply.thickness_mm = 1.0;
        ply.pieces = {square_piece(std::to_string(ply.number) + "A", 100.0)};
        part.plies.push_back(ply);
        part.quantities.plies.push_back({ply.number, {}, 1e4, 4.5, 10.0});
    }
    part.quantities.stages.resize(2);
    part.quantities.stages[1].plies = {first};
    part.quantities.topcoat_cups.resize(1);
    part.model_sha256 = part.job.part.name;
    return part;
}

std::vector<Plan> two_sides() {
    return {side_of(job::Side::inside, 1, 3), side_of(job::Side::outside, 4, 4)};
}

TEST(Combined, HasAllPliesStagesAndCupsInTheOrderOfWork) {
    const Plan all = combined(hole_job(), two_sides(), 1);
    std::string plies, stages;
    for (const templates::LaidPly& ply : all.plies) plies += std::to_string(ply.number);
    for (const quantities::Stage& stage : all.quantities.stages) stages += stage.part + ", ";
    EXPECT_EQ(plies, "1234567");
    EXPECT_EQ(all.quantities.plies.size(), 7u);
    EXPECT_EQ(stages, "from inside, from inside, from outside, from outside, ");
    EXPECT_EQ(all.quantities.topcoat_cups.size(), 2u);
    EXPECT_EQ(all.parts.size(), 2u);
    EXPECT_EQ(all.model_sha256, "from outside") << "of the one under the hand";
}

TEST(Combined, SumsEveryTotalByItself) {
    // Powers of two: each sum tells which figures went into it.
    std::vector<Plan> parts = two_sides();
    double next = 1.0;
    for (Plan& part : parts) {
        quantities::Totals& t = part.quantities.totals;
        for (double* figure : {&t.glass_area_m2, &t.glass_g, &t.resin_g, &t.laid_thickness_mm,
                               &t.ground_area_m2, &t.prime_g, &t.fairing_mL}) {
            *figure = next;
            next *= 2.0;
        }
        part.dish_mm3 = next;
    }
    parts[0].quantities.totals.hardener_g = 3.0;
    parts[1].quantities.totals.hardener_g = 4.0;
    parts[1].quantities.totals.topcoat_g = 5.0;
    const Plan all = combined(hole_job(), parts, 1);
    const quantities::Totals& sum = all.quantities.totals;
    EXPECT_EQ(sum.glass_area_m2, 1.0 + 128.0);
    EXPECT_EQ(sum.glass_g, 2.0 + 256.0);
    EXPECT_EQ(sum.resin_g, 4.0 + 512.0);
    EXPECT_EQ(sum.laid_thickness_mm, 8.0 + 1024.0);
    EXPECT_EQ(sum.ground_area_m2, 16.0 + 2048.0);
    EXPECT_EQ(sum.prime_g, 32.0 + 4096.0);
    EXPECT_EQ(sum.fairing_mL, 64.0 + 8192.0);
    EXPECT_EQ(sum.hardener_g, 7.0);
    EXPECT_EQ(sum.topcoat_g, 5.0) << "the covered side has none";
    EXPECT_FALSE(sum.hardener_mL) << "nobody knows it of either";
    EXPECT_EQ(all.dish_mm3, 128.0 + 16384.0);
}

TEST(Combined, StandsAsProudAsItsWorstSideAndIsSandedAsItsMainOne) {
    std::vector<Plan> parts = two_sides();
    parts[0].quantities.proud.max_mm = 0.9;
    parts[0].quantities.proud.mean_mm = 0.1;
    parts[1].quantities.proud.max_mm = 0.4;
    parts[1].quantities.proud.mean_mm = 0.2;
    parts[1].quantities.sanding.kept_mm = 3.0;
    const Plan all = combined(hole_job(), parts, 1);
    EXPECT_EQ(all.quantities.proud.max_mm, 0.9);
    EXPECT_EQ(all.quantities.proud.mean_mm, 0.2);
    EXPECT_EQ(all.quantities.sanding.kept_mm, 3.0);
}

TEST(Combined, TellsOnceWhatBothSidesSayOfNoPly) {
    std::vector<Plan> parts = two_sides();
    const Warning thin{.cause = warn::FloorThin{8.0, 9.0}};
    const Warning other{.cause = warn::FloorThin{7.0, 9.0}};
    Warning of_ply = thin;
    of_ply.ply = 2;
    parts[0].warnings = {thin, of_ply};
    parts[1].warnings = {thin, of_ply, other};
    int thins = 0;
    for (const Warning& warning : combined(hole_job(), parts, 1).warnings)
        thins += is<warn::FloorThin>(warning) ? 1 : 0;
    EXPECT_EQ(thins, 4);
}

TEST(Combined, IsComparedWithTheOldSkinAsOneLaminate) {
    // By hand: of a skin of 4 mm of mat, two plies stand from inside in the dish and three from
    // outside; outside 2.6 mm stay when it is sanded, and 0.5 mm go off the back: 4.1 of 4 mm. The
    // membrane goes with the thickness.
    job::Job job = hole_job();
    job.old_laminate = job::OldLaminate{};
    job.old_laminate->thickness = 4.0;
    job.old_laminate->kind = job::FabricKind::mat;
    std::vector<Plan> parts = two_sides();
    parts[0].quantities.sanding.kept_mm = 99.0;  // of the side that is covered: counts for nothing
    parts[1].quantities.sanding.kept_mm = 2.6;
    const Plan all = combined(job, parts, 1);
    ASSERT_TRUE(all.comparison && all.comparison->ratios);
    EXPECT_NEAR(all.comparison->kept_mm, 4.1, 1e-9);
    EXPECT_NEAR(all.comparison->floor_mm, 0.0, 1e-9);
    EXPECT_NEAR(all.comparison->ratios->membrane_stiffness, 4.1 / 4.0, 1e-6);
    parts[1].quantities.sanding.kept_mm = 1.5;
    std::string codes;
    for (const Warning& warning : combined(job, parts, 1).warnings) codes += warning.code();
    EXPECT_NE(codes.find("patch-weaker"), std::string::npos);
}

TEST(Combined, OfASandwichIsNotComparedAsOneLaminate) {
    job::Job job = hole_job();
    job.core = job::Core{};
    EXPECT_FALSE(combined(job, two_sides(), 1).comparison);
}

TEST(Combined, NestsEveryPieceOnOneRoll) {
    const Plan all = combined(hole_job(), two_sides(), 0);
    ASSERT_EQ(all.rolls.size(), 1u);
    EXPECT_EQ(all.rolls[0].placed.size(), 7u);
    // By hand: seven squares of 100 mm on a roll of 1250: no shorter than their area.
    EXPECT_NEAR(all.rolls[0].area_bound_mm, 7e4 / all.rolls[0].width_mm, 1e-6);
}

TEST(AreasOf, AreSummedOverThePartsEachByItself) {
    Plan whole;
    whole.place.areas = {1, 2, 4, 8, 16, 32};
    const auto figures = [](const quantities::Areas& a) {
        return std::vector<double>{a.damage_mm2,    a.damage_perimeter_mm,    a.scarf_mm2,
                                   a.footprint_mm2, a.footprint_perimeter_mm, a.lap_mm2};
    };
    EXPECT_EQ(figures(areas_of(whole)), (std::vector<double>{1, 2, 4, 8, 16, 32}));
    whole.parts.resize(2);
    whole.parts[0].place.areas = {64, 128, 256, 512, 1024, 2048};
    whole.parts[1].place.areas = {1, 2, 4, 8, 16, 32};
    EXPECT_EQ(figures(areas_of(whole)), (std::vector<double>{65, 130, 260, 520, 1040, 2080}));
}

double metres_for_the_backing(const Plan& plan) {
    for (const quantities::ShoppingItem& item : plan.shopping.items)
        if (item.name == "mat 450, for the backing") return item.amount;
    return 0.0;
}

TEST(ShopAnew, BuysClothForABackingThatHasNoTemplate) {
    // By hand: 900 g of mat of 450 g/m2 are 2 m2, of a roll of 1.25 m 1.6 m; three copies 4.8 m.
    Plan plan;
    plan.job = hole_job();
    plan.job.layup.copies = 3;
    plan.job.fabrics.at("mat 450").roll_width = 1250.0;
    plan.backing = BackingPlan{};
    plan.backing->glass_g = 900.0;
    shop_anew(plan);
    EXPECT_EQ(metres_for_the_backing(plan), 0.0) << "no plies: a sheet that one has";
    plan.backing->plies = 2;
    shop_anew(plan);
    EXPECT_NEAR(metres_for_the_backing(plan), 4.8, 1e-9);
    EXPECT_FALSE(plan.shopping.complete);
    plan.backing->pieces.resize(1);
    shop_anew(plan);
    EXPECT_EQ(metres_for_the_backing(plan), 0.0) << "it lies on the roll with the plies";
}

TEST(CutPieces, AreThoseOfThePliesAndEveryPlyOfABackingThatStays) {
    Plan plan;
    plan.plies.resize(2);
    plan.plies[0].number = 1;
    plan.plies[0].fabric = "mat 450";
    plan.plies[0].pieces = {square_piece("1A", 10), square_piece("1B", 20)};
    plan.plies[1].number = 2;
    plan.plies[1].fabric = "roving 600";
    plan.plies[1].kind = job::FabricKind::woven;
    plan.plies[1].pieces = {square_piece("2A", 30)};
    EXPECT_EQ(cut_pieces(plan).size(), 3u);
    plan.backing = BackingPlan{};
    plan.backing->pieces.resize(1);
    plan.backing->pieces[0].pieces = {square_piece("backing", 40)};
    EXPECT_EQ(cut_pieces(plan).size(), 3u) << "it comes out again, and is no cloth";
    plan.backing->plies = 4;
    const auto pieces = cut_pieces(plan);
    ASSERT_EQ(pieces.size(), 4u);
    EXPECT_EQ(pieces[1].id, "1B");
    EXPECT_EQ(pieces[1].ply, 1);
    EXPECT_EQ(pieces[2].fabric, "roving 600");
    EXPECT_EQ(pieces[2].kind, job::FabricKind::woven);
    EXPECT_EQ(pieces[2].copies, 1);
    EXPECT_EQ(pieces[3].id, "backing");
    EXPECT_EQ(pieces[3].ply, 0);
    EXPECT_EQ(pieces[3].fabric, backing_mat);
    EXPECT_EQ(pieces[3].copies, 4);
    EXPECT_EQ(pieces[3].outline, &plan.backing->pieces[0].pieces[0].outline);
}

TEST(Combined, WhatPartsSayWithFiguresOfTheirOwnIsSaidByTheirNames) {
    // By reading: "18 g more resin" and "83 g more" one below the other are of nobody.
    std::vector<Plan> parts = two_sides();
    parts[0].warnings = {{warn::ScarfProud{1.17, 1.52}}, {warn::FloorThin{8.0, 9.0}}};
    parts[1].warnings = {{warn::ScarfProud{1.18, 1.59}}, {warn::FloorThin{8.0, 9.0}}};
    const Plan all = combined(hole_job(), std::move(parts), 1);
    std::vector<std::string> told;
    for (const Warning& warning : all.warnings)
        if (is<warn::ScarfProud>(warning) || is<warn::FloorThin>(warning))
            told.push_back(warning.words().plain(Units::metric));
    ASSERT_EQ(told.size(), 3u);
    EXPECT_TRUE(told[0].starts_with("from inside: the torn bands")) << told[0];
    EXPECT_NE(told[0].find("1.17"), std::string::npos);
    EXPECT_FALSE(told[1].starts_with("from")) << told[1];
    EXPECT_TRUE(told[2].starts_with("from outside: the torn bands")) << told[2];
    EXPECT_NE(told[2].find("1.18"), std::string::npos);
}

}  // namespace
}  // namespace tearline::plan
