#include "core/layout/nest_rolls.h"

#include <gtest/gtest.h>

#include <algorithm>
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

/// A remnant that is a rectangle with a corner cut off: no cloth where x + y > 1100.
job::Remnant cut_corner(const std::string& fabric) {
    job::Remnant remnant;
    remnant.name = "left";
    remnant.fabric = fabric;
    remnant.outline = {{0, 0}, {900, 0}, {900, 200}, {500, 600}, {0, 600}};
    return remnant;
}

/// The corners of a rectangle where it is placed.
Loop2 corners(const Placement& at, double long_side, double short_side) {
    Loop2 out;
    const double a = at.turn_deg * std::numbers::pi / 180.0;
    for (const Vec2& p : Loop2{{0, 0}, {long_side, 0}, {long_side, short_side}, {0, short_side}})
        out.emplace_back(at.x_mm + std::cos(a) * p.x() - std::sin(a) * p.y(),
                         at.y_mm + std::sin(a) * p.x() + std::cos(a) * p.y());
    return out;
}

TEST_F(RectanglesOnRolls, LieOnARemnantBeforeTheRoll) {
    for (int k = 0; k < 6; ++k) add("p" + std::to_string(k), "mat 450", mat, 300, 200);
    const std::vector<job::Remnant> remnants{cut_corner("mat 450")};
    const auto laid = nest_rolls(pieces, Stock{job.fabrics, 5.0, remnants});
    ASSERT_TRUE(laid) << laid.error().message();
    const CutRemnant& cut = laid->remnants.front();
    EXPECT_GE(cut.placed.size(), 4u);  // by hand: two rows of two keep clear of the corner
    for (const Placement& at : cut.placed)
        for (const Vec2& p : corners(at, 300, 200)) {
            EXPECT_GE(p.x(), -1e-3);
            EXPECT_GE(p.y(), -1e-3);
            EXPECT_LE(p.x(), 900.001);
            EXPECT_LE(p.y(), 600.001);
            EXPECT_LE(p.x() + p.y(), 1100.001);
        }
    EXPECT_NEAR(cut.used_fraction, double(cut.placed.size()) * 60000.0 / 460000.0, 1e-9);
    std::size_t on_rolls = 0;
    for (const Roll& roll : laid->rolls) on_rolls += roll.placed.size();
    EXPECT_EQ(on_rolls + cut.placed.size(), 6u);
}

TEST_F(RectanglesOnRolls, KeepOffABoxOfARemnant) {
    for (int k = 0; k < 3; ++k) add("p" + std::to_string(k), "mat 450", mat, 300, 200);
    std::vector<job::Remnant> remnants{cut_corner("mat 450")};
    remnants.front().keep_off = {{250, 600, 0, 0}};  // corners in any order
    const auto laid = nest_rolls(pieces, Stock{job.fabrics, 5.0, remnants});
    ASSERT_TRUE(laid);
    EXPECT_FALSE(laid->remnants.front().placed.empty());
    for (const Placement& at : laid->remnants.front().placed)
        for (const Vec2& p : corners(at, 300, 200)) EXPECT_GE(p.x(), 250.0);
}

TEST_F(RectanglesOnRolls, StayWhereTheyAreLocked) {
    for (int k = 0; k < 3; ++k) add("p" + std::to_string(k), "mat 450", mat, 300, 200);
    std::vector<job::Remnant> remnants{cut_corner("mat 450")};
    remnants.front().locked = {{"p1", Vec2(350, 20), 0.0}};
    const auto laid = nest_rolls(pieces, Stock{job.fabrics, 5.0, remnants});
    ASSERT_TRUE(laid) << laid.error().message();
    int seen = 0;
    for (const Placement& at : laid->remnants.front().placed) {
        if (at.piece == "p1") {
            ++seen;
            EXPECT_NEAR(at.x_mm, 350.0, 1e-9);
            EXPECT_NEAR(at.y_mm, 20.0, 1e-9);
            continue;
        }
        // Clear of it by the gap, on one side at least.
        const Loop2 lies = corners(at, 300, 200);
        double low_x = 1e9, low_y = 1e9, high_x = -1e9, high_y = -1e9;
        for (const Vec2& p : lies) {
            low_x = std::min(low_x, p.x()), high_x = std::max(high_x, p.x());
            low_y = std::min(low_y, p.y()), high_y = std::max(high_y, p.y());
        }
        EXPECT_TRUE(high_x <= 345.01 || low_x >= 654.99 || high_y <= 15.01 || low_y >= 224.99);
    }
    EXPECT_EQ(seen, 1);
}

TEST_F(RectanglesOnRolls, AreRefusedWhereTheyAreLockedWrongly) {
    add("p0", "roving", woven, 300, 200);
    job::Remnant remnant = cut_corner("roving");
    remnant.roll_direction = 0.0;
    const auto refusal = [&](const job::LockedPiece& lock) {
        remnant.locked = {lock};
        const std::vector<job::Remnant> remnants{remnant};
        const auto laid = nest_rolls(pieces, Stock{job.fabrics, 5.0, remnants});
        return laid ? std::string() : laid.error().message();
    };
    EXPECT_EQ(refusal({"p0", Vec2(100, 100), 0.0}), "");
    EXPECT_EQ(refusal({"p0", Vec2(400, 300), 180.0}), "");
    EXPECT_NE(refusal({"p0", Vec2(700, 100), 0.0}).find("hang over"), std::string::npos);
    EXPECT_NE(refusal({"p9", Vec2(100, 100), 0.0}).find("no piece \"p9\""), std::string::npos);
    EXPECT_NE(refusal({"p0", Vec2(300, 100), 90.0}).find("along the roll"), std::string::npos);
    remnant.keep_off = {{150, 150, 160, 160}};
    EXPECT_NE(refusal({"p0", Vec2(100, 100), 0.0}).find("keep_off"), std::string::npos);
}

TEST_F(RectanglesOnRolls, LieAlongTheRollOfARemnantSeenFromEitherFace) {
    // The warp of the piece runs at 20 degrees on its template, the roll at 70 on the remnant;
    // outlined face down it runs at 110 seen from the face that is cut.
    add("p0", "roving", woven, 200, 100, 20.0);
    for (const bool up : {true, false}) {
        job::Remnant remnant = cut_corner("roving");
        remnant.roll_direction = 70.0;
        remnant.face_up = up;
        const std::vector<job::Remnant> remnants{remnant};
        const auto laid = nest_rolls(pieces, Stock{job.fabrics, 5.0, remnants});
        ASSERT_TRUE(laid);
        ASSERT_EQ(laid->remnants.front().placed.size(), 1u);
        const double turn = laid->remnants.front().placed.front().turn_deg;
        EXPECT_NEAR(std::remainder(turn + 20.0 - (up ? 70.0 : 110.0), 180.0), 0.0, 1e-9);
        for (const Vec2& p : corners(laid->remnants.front().placed.front(), 200, 100)) {
            const double x = up ? p.x() : -p.x();
            EXPECT_GE(x, -1e-3);
            EXPECT_LE(x + p.y(), 1100.001);
        }
    }
}

TEST_F(RectanglesOnRolls, OfManyLieInLotsWithoutOverlap) {
    for (int k = 0; k < 180; ++k)
        add("p" + std::to_string(k), "mat 450", mat, 100.0 + k % 7, 80.0 + k % 5);
    const auto rolls = laid().rolls;
    ASSERT_EQ(rolls.size(), 1u);
    ASSERT_EQ(rolls[0].placed.size(), 180u);
    // Boxes of rectangles turned by quarters are the rectangles; others are wider than they are.
    std::vector<Loop2> all;
    for (const Placement& at : rolls[0].placed) {
        const int k = std::stoi(at.piece.substr(1));
        all.push_back(corners(at, 100.0 + k % 7, 80.0 + k % 5));
    }
    for (std::size_t i = 0; i < all.size(); ++i)
        for (std::size_t j = i + 1; j < all.size(); ++j)
            for (const Vec2& p : all[j]) EXPECT_FALSE(contains(all[i], p)) << i << " " << j;
    EXPECT_GT(rolls[0].used_fraction, 0.7);  // common practice: a lot wastes its ragged end alone
}

}  // namespace
}  // namespace tearline::layout
