#include "core/drawing/piece_drawing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <optional>
#include <string>

#include "tests/unit/drawing/shapes.h"

namespace tearline::drawing {
namespace {

using templates::TemplateSet;

TEST(PieceDrawing, WordsAlongALineNameItOnEverySide) {
    const Drawing piece = piece_drawing(disc_set({200, 212}).pieces[0], {false, true});
    int tear = 0;
    for (const Drawing::Text& text : piece.texts)
        if (text.text == "TEAR  1A") {
            ++tear;
            // Inside the tear line by 0.75 and half of a capital of 2.1 mm, and by what a circle of
            // 220 mm radius rises over half of the words; the last of its points under that, 3.84
            // mm apart, may lie as much short of it.
            const double half = 0.5 * text_width(text.text, 2.1);
            const double rise = half * half / 440.0;
            const double short_of = rise - (half - 3.84) * (half - 3.84) / 440.0;
            EXPECT_NEAR((text.base + 0.5 * text.up).norm(), 220.0 - 1.25 * 2.1 - rise, short_of);
        }
    // By hand: 2 pi 220 = 1382 mm at 130 mm each is 10.
    EXPECT_EQ(tear, 10);
}

TEST(PieceDrawing, NamesItsLinesOnceInAFileAndWithItsIdOnPages) {
    templates::PieceTemplate piece = disc_set({200}).pieces[0];
    piece.outline.marks = {templates::Label{{0, 210}, {0, 3}, "TEAR LINE"}};
    const auto says = [&](bool on_pages, const std::string& words) {
        const Drawing drawing = piece_drawing(piece, {false, on_pages});
        return std::any_of(drawing.texts.begin(), drawing.texts.end(),
                           [&](const Drawing::Text& text) { return text.text == words; });
    };
    EXPECT_TRUE(says(false, "TEAR LINE"));
    EXPECT_FALSE(says(false, "TEAR  1A"));
    EXPECT_FALSE(says(true, "TEAR LINE"));
    EXPECT_TRUE(says(true, "TEAR  1A"));
}

TEST(PieceDrawing, NamesAnOpenLineWhereNoOtherWordsStandOrNotAtAll) {
    // The ply's own words stand over the middle of the next smaller ply's edge, as on a wrap.
    templates::PieceTemplate piece = disc_set({200}).pieces[0];
    const std::string words(templates::NextEdge::words);
    const auto named = [&](const std::vector<Vec2>& edge) {
        piece.outline.marks = {templates::NextEdge{edge, false}};
        for (int k = 0; k < 9; ++k)
            piece.outline.marks.push_back(
                templates::Label{{0, 40.0 - 10.0 * k}, {0, 8}, "PLY 5 5A"});
        const Drawing drawing = piece_drawing(piece, {false, true});
        int count = 0;
        for (const Drawing::Text& text : drawing.texts) {
            if (text.text != words) continue;
            ++count;
            EXPECT_GT(std::abs(text.base.y()) - 0.5 * text_width(words, text.up.norm()), 48.0);
        }
        return count;
    };
    EXPECT_EQ(named({{0, -180}, {0, 180}}), 1);
    EXPECT_EQ(named({{0, -35}, {0, 35}}), 0);
}

TEST(PieceDrawing, AnOpeningInMatIsTornAndOneInClothIsCut) {
    templates::PieceTemplate piece = disc_set({200}).pieces[0];
    piece.outline.tear->holes = {circle(10)};
    const auto has = [&](Role role) {
        const Drawing drawing = piece_drawing(piece, {});
        return std::any_of(drawing.lines.begin(), drawing.lines.end(),
                           [role](const Drawing::Line& line) { return line.role == role; });
    };
    EXPECT_TRUE(has(Role::torn_hole));
    EXPECT_FALSE(has(Role::hole));
    piece.outline.cut = piece.outline.tear;
    piece.outline.tear.reset();
    EXPECT_TRUE(has(Role::hole));
    EXPECT_FALSE(has(Role::torn_hole));
}

TEST(Drawing, TurnsAndMovesLinesAndWords) {
    Drawing drawing = outlined("a", rectangle(10, 4));
    drawing.texts.push_back({{10, 0}, {0, 2}, "TEAR"});
    const Drawing turned = placed(drawing, 90.0, {100, 0});
    EXPECT_LT((turned.lines[0].points[1] - Vec2(100, 10)).norm(), 1e-12);
    EXPECT_LT((turned.texts[0].base - Vec2(100, 10)).norm(), 1e-12);
    EXPECT_LT((turned.texts[0].up - Vec2(-2, 0)).norm(), 1e-12);
}

TEST(Drawing, WordsFromTheLeftTakeTheRoomToTheRight) {
    Drawing::Text text{{10, 0}, {0, 2}, "TEAR"};
    EXPECT_DOUBLE_EQ(box_of(text).middle.x(), 10.0);
    text.from_left = true;
    text.width = 40.0;
    EXPECT_DOUBLE_EQ(box_of(text).middle.x(), 30.0);
    // By definition: the room and 0.4 of a letter's height at both ends.
    EXPECT_DOUBLE_EQ(box_of(text).along.x(), 20.0 + 0.4 * 2.0);
}

/// Where the edge is slit for a tick, and how far in [mm].
std::optional<std::pair<Vec2, Vec2>> notch_of(double edge_at, const Look& look = {}) {
    templates::PieceTemplate piece;
    piece.id = "1A";
    piece.outline.net.outer = {{0, 0}, {100, 0}, {100, 50}, {0, 50}};
    piece.outline.tear = Region2{{{-20, -20}, {edge_at, -20}, {edge_at, 70}, {-20, 70}}, {}};
    piece.outline.marks = {templates::Tick{{92, 25}, {108, 25}, "bow"}};
    const Drawing drawing = piece_drawing(piece, look);
    for (const Drawing::Line& line : drawing.lines)
        if (line.role == Role::notch) return std::pair(line.points[0], line.points[1]);
    return std::nullopt;
}

TEST(PieceDrawing, SlitsTheEdgeAtATickIntoTheTornBandAlone) {
    // By hand: the tick's middle is on the net line at 100, so the band is what lies beyond; half
    // of it is slit, 2 mm at least and 5 mm at most.
    for (const auto& [edge, depth] : {std::pair{120.0, 5.0}, {108.0, 4.0}, {106.0, 3.0}}) {
        const auto notch = notch_of(edge);
        ASSERT_TRUE(notch) << edge;
        EXPECT_LT((notch->first - Vec2(edge, 25)).norm(), 1e-9) << "begins on the edge";
        EXPECT_LT((notch->second - Vec2(edge - depth, 25)).norm(), 1e-9);
        EXPECT_GE(notch->second.x(), 100.0) << "never into the full ply";
    }
    const auto turned = notch_of(120.0, {true, false});
    ASSERT_TRUE(turned);
    EXPECT_LT((turned->first - Vec2(-120, 25)).norm(), 1e-9);
}

TEST(PieceDrawing, HeadsOfArrowsLieAtTheirTipsAndFibresHaveTwo) {
    // By hand: a head reaches 5 mm back, or 0.35 of a short arrow, and 0.4 of that to either side.
    templates::PieceTemplate piece = disc_set({200}).pieces[0];
    piece.outline.marks = {templates::Arrow{templates::Arrow::To::bow, {0, 0}, {40, 0}, "BOW"},
                           templates::Arrow{templates::Arrow::To::up, {0, 0}, {0, 10}, "UP"},
                           templates::Fibre{{-50, -50}, {-10, -50}}};
    std::vector<std::vector<Vec2>> arrows, fibres;
    for (const Drawing::Line& line : piece_drawing(piece, {}).lines) {
        if (line.role == Role::arrow) arrows.push_back(line.points);
        if (line.role == Role::fibre) fibres.push_back(line.points);
    }
    ASSERT_EQ(arrows.size(), 4u);
    EXPECT_EQ(arrows[1], (std::vector<Vec2>{{35, -2}, {40, 0}, {35, 2}}));
    for (const Vec2& p : arrows[3]) EXPECT_GE(p.y(), 10.0 - 3.5 - 1e-9);
    EXPECT_EQ(arrows[3][1], Vec2(0, 10));
    ASSERT_EQ(fibres.size(), 3u) << "the roll runs both ways";
    EXPECT_EQ(fibres[1][1], Vec2(-10, -50));
    EXPECT_EQ(fibres[2][1], Vec2(-50, -50));
}

TEST(PieceDrawing, WhereClothGoesRoundAFittingTheOpeningIsCut) {
    // Mat torn all round but cut at an opening that has no band of its own.
    templates::PieceTemplate piece = disc_set({200}).pieces[0];
    piece.outline.net.holes = {circle(15, {50, 0})};
    piece.outline.tear->holes = piece.outline.net.holes;
    int cut = 0, torn = 0;
    for (const Drawing::Line& line : piece_drawing(piece, {}).lines) {
        cut += line.role == Role::hole ? 1 : 0;
        torn += line.role == Role::torn_hole ? 1 : 0;
    }
    EXPECT_EQ(cut, 1);
    EXPECT_EQ(torn, 0);
}

TEST(PieceDrawing, SaysOnceWhatTwoMarksWouldSay) {
    // A tick towards the bow beside an arrow that says BOW has no word of its own; two next edges
    // are named once.
    templates::PieceTemplate piece = disc_set({200}).pieces[0];
    const auto count = [&](const std::string& words) {
        int found = 0;
        for (const Drawing::Text& text : piece_drawing(piece, {}).texts)
            found += text.text.find(words) != std::string::npos ? 1 : 0;
        return found;
    };
    piece.outline.marks = {templates::Tick{{192, 0}, {208, 0}, "bow"}};
    EXPECT_EQ(count("BOW"), 1);
    piece.outline.marks.push_back(
        templates::Arrow{templates::Arrow::To::bow, {0, 0}, {40, 0}, "BOW"});
    EXPECT_EQ(count("BOW"), 1);
    piece.outline.marks = {templates::NextEdge{circle(150), true},
                           templates::NextEdge{circle(40), true}};
    EXPECT_EQ(count(std::string(templates::NextEdge::words)), 1);
}

}  // namespace
}  // namespace tearline::drawing
