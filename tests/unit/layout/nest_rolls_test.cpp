#include "core/layout/nest_rolls.h"

#include <gtest/gtest.h>

#include <cmath>
#include <deque>
#include <numbers>

namespace tearline::layout {
namespace {

/// Pieces that are rectangles, with their templates kept alive.
class RectanglesOnRolls : public testing::Test {
protected:
    void add(const std::string& id, const std::string& fabric, job::FabricKind kind,
             double long_side, double short_side, double warp_degrees = 0.0) {
        templates::Template outline;
        outline.net.outer = {{0, 0}, {long_side, 0}, {long_side, short_side}, {0, short_side}};
        outline.area_mm2 = long_side * short_side;
        outline.warp_degrees = warp_degrees;
        outlines.push_back(outline);
        CutPiece piece;
        piece.id = id;
        piece.ply = static_cast<int>(pieces.size()) + 1;
        piece.fabric = fabric;
        piece.kind = kind;
        piece.outline = &outlines.back();
        pieces.push_back(piece);
        if (job.fabrics.contains(fabric)) return;
        job::Fabric cloth;
        cloth.name = fabric;
        cloth.kind = kind;
        cloth.roll_width = 1000.0;
        job.fabrics[fabric] = cloth;
    }

    Rolls laid() { return nest_rolls(pieces, job); }

    std::deque<templates::Template> outlines;  // pieces point into it
    std::vector<CutPiece> pieces;
    job::Job job;
};

constexpr job::FabricKind mat = job::FabricKind::mat, woven = job::FabricKind::woven,
                          biaxial = job::FabricKind::biaxial;

TEST_F(RectanglesOnRolls, HaveARollACloth) {
    // In the order of laying, whatever lies between.
    add("1A", "mat 450", mat, 300, 200);
    add("2A", "roving", woven, 300, 200);
    add("3A", "mat 450", mat, 300, 200);
    const auto rolls = laid().rolls;
    ASSERT_EQ(rolls.size(), 2u);
    EXPECT_EQ(rolls[0].fabric, "mat 450");
    EXPECT_EQ(rolls[0].placed.size(), 2u);
    EXPECT_EQ(rolls[1].fabric, "roving");
    EXPECT_EQ(rolls[1].placed.size(), 1u);
}

TEST_F(RectanglesOnRolls, AreLaidForEveryCopy) {
    add("1A", "mat 450", mat, 300, 200);
    job.layup.copies = 7;
    const auto rolls = laid().rolls;
    ASSERT_EQ(rolls.size(), 1u);
    EXPECT_EQ(rolls[0].placed.size(), 7u);
    for (const Placement& at : rolls[0].placed) EXPECT_EQ(at.piece, "1A");
}

TEST_F(RectanglesOnRolls, FillARollToTheLengthWorkedOutByHand) {
    // Mat turns: of six pieces of 495 x 300 two stand abreast on 1006 mm with 10 mm between them,
    // three rows of 300 mm with 10 mm between: 920 mm; what is used is 6 x 0.1485 of 1.006 x 0.92
    // m2.
    for (int i = 0; i < 6; ++i) add(std::to_string(i), "mat 450", mat, 300, 495);
    job.shop.cutting_gap = 10.0;
    job.fabrics["mat 450"].roll_width = 1006.0;
    const auto rolls = laid().rolls;
    ASSERT_EQ(rolls.size(), 1u);
    EXPECT_NEAR(rolls[0].length_mm, 920.0, 5.0);
    EXPECT_DOUBLE_EQ(rolls[0].width_mm, 1006.0);
    EXPECT_DOUBLE_EQ(rolls[0].gap_mm, 10.0);
    EXPECT_NEAR(rolls[0].used_fraction, 6 * 0.1485 / (1.006 * 0.92), 0.01);
    EXPECT_NEAR(rolls[0].area_bound_mm, 6 * 148500.0 / 1006.0, 1e-9);
}

TEST_F(RectanglesOnRolls, OfClothLieWithTheirWarpAlongTheRoll) {
    // A warp at 30 degrees on paper is turned back by 30, or by 150: never across, though that
    // would be shorter.
    add("1A", "roving", woven, 900, 200, 90.0);
    add("2A", "roving", woven, 900, 200, 30.0);
    add("3A", "biax", biaxial, 400, 100, -45.0);
    for (const Roll& roll : laid().rolls)
        for (const Placement& at : roll.placed) {
            const auto piece =
                std::find_if(pieces.begin(), pieces.end(),
                             [&](const CutPiece& each) { return each.id == at.piece; });
            const double lies =
                std::fmod(at.turn_deg + piece->outline->warp_degrees + 720.0, 180.0);
            EXPECT_NEAR(std::min(lies, 180.0 - lies), 0.0, 1e-9) << at.piece;
        }
    // 900 mm with its warp across: it stands across the roll, which its 200 mm then take of its
    // length.
    EXPECT_GE(laid().rolls[0].length_mm, 200.0);
}

TEST_F(RectanglesOnRolls, WiderThanTheirClothAreLeftOutAndNamed) {
    // Cloth may not be turned: 1100 mm across a roll of 1000 do not go; mat of the same size turns.
    add("1A", "roving", woven, 300, 1100);
    add("2A", "roving", woven, 300, 400);
    add("3A", "mat 450", mat, 300, 1100);
    const Rolls rolls = laid();
    ASSERT_EQ(rolls.warnings.size(), 1u);
    EXPECT_EQ(rolls.warnings[0].code(), "wider-than-roll");
    EXPECT_EQ(rolls.warnings[0].piece, "1A");
    EXPECT_EQ(rolls.warnings[0].ply, 1);
    ASSERT_EQ(rolls.rolls.size(), 2u);
    EXPECT_EQ(rolls.rolls[0].placed.size(), 1u);
    EXPECT_DOUBLE_EQ(rolls.rolls[0].area_bound_mm, 120.0) << "of what is laid alone";
    EXPECT_EQ(rolls.rolls[1].placed.size(), 1u);
    EXPECT_NEAR(rolls.rolls[1].length_mm, 1100.0, 0.01);
}

TEST_F(RectanglesOnRolls, AreMeasuredByTheirOuterLine) {
    // The torn line, 20 mm outside the net line, is what lies on the roll.
    add("1A", "mat 450", mat, 300, 200);
    Region2 torn;
    torn.outer = {{-20, -20}, {320, -20}, {320, 220}, {-20, 220}};
    outlines.back().tear = torn;
    outlines.back().area_mm2 = 340.0 * 240.0;
    const auto rolls = laid().rolls;
    EXPECT_NEAR(rolls[0].length_mm, 240.0, 0.01) << "mat lies across where that is shorter";
    EXPECT_NEAR(rolls[0].area_bound_mm, 81.6, 1e-9);
}

TEST_F(RectanglesOnRolls, AreNoneWithoutPieces) {
    EXPECT_TRUE(laid().rolls.empty());
    EXPECT_TRUE(laid().warnings.empty());
}

}  // namespace
}  // namespace tearline::layout
