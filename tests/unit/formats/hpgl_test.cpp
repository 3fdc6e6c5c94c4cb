#include "core/formats/hpgl.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tearline::formats {
namespace {

using drawing::Role;

CutterSheet sheet_of(std::vector<drawing::Drawing> drawings, std::vector<Vec2> places) {
    CutterSheet sheet;
    sheet.drawings = std::move(drawings);
    sheet.places = std::move(places);
    return sheet;
}

drawing::Drawing with_line(Role role, std::vector<Vec2> points, bool closed) {
    drawing::Drawing drawing;
    drawing.name = "1A";
    drawing.lines.push_back({role, std::move(points), closed});
    return drawing;
}

TEST(HpglLines, RoundToTheNearestStepOfAFortiethOfAMillimetre) {
    // By hand: 1.0124 x 40 = 40.496, 1.0126 x 40 = 40.504, -0.3 x 40 = -12.
    const auto sheet =
        sheet_of({with_line(Role::cut, {{1.0124, 0}, {1.0126, 1}, {-0.3, 2}}, false)}, {{0, 0}});
    EXPECT_EQ(hpgl(sheet, {.part = 1, .draw = 0, .write = 0}),
              "IN;PA;\nSP1;\nPU40,0;PD41,40,-12,80;\nPU0,0;SP0;\n");
}

TEST(HpglLines, GoBackToTheirStartWhereTheyAreClosed) {
    const auto sheet = sheet_of({with_line(Role::tear, {{0, 0}, {1, 0}, {1, 1}}, true)}, {{2, 3}});
    EXPECT_EQ(hpgl(sheet, {.part = 4, .draw = 0, .write = 0}),
              "IN;PA;\nSP4;\nPU80,120;PD120,120,120,160,80,120;\nPU0,0;SP0;\n");
}

TEST(HpglLines, LeaveOutPointsOnTheSameStep) {
    // 0.004 mm is under a fifth of a step: no machine should stand still there.
    const auto sheet =
        sheet_of({with_line(Role::cut, {{0, 0}, {0.004, 0}, {1, 0}, {1.004, 0}}, false)}, {{0, 0}});
    EXPECT_EQ(hpgl(sheet, {.part = 1, .draw = 0, .write = 0}),
              "IN;PA;\nSP1;\nPU0,0;PD40,0;\nPU0,0;SP0;\n");
}

TEST(HpglLines, OfOnePointAreNotPlotted) {
    // A hole to drill is a DXF's affair.
    const auto sheet = sheet_of({with_line(Role::drill, {{5, 5}}, false)}, {{0, 0}});
    EXPECT_EQ(hpgl(sheet, {.part = 1, .draw = 2, .write = 0}), "IN;PA;\nSP2;\nSP1;\nPU0,0;SP0;\n");
}

TEST(HpglPens, PartWhatABladeFollowsAndDrawTheRest) {
    drawing::Drawing all;
    all.name = "1A";
    int k = 0;
    for (const Role role :
         {Role::tear, Role::hole, Role::relief, Role::net, Role::fibre, Role::tick})
        all.lines.push_back({role, {{double(k), 0}, {double(k++), 1}}, false});
    const std::string plot = hpgl(sheet_of({all}, {{0, 0}}), {.part = 7, .draw = 8, .write = 0});
    // Drawn first, cut last: by hand, lines 3 to 5 with pen 8, then 0 to 2 with pen 7.
    EXPECT_EQ(plot,
              "IN;PA;\nSP8;\nPU120,0;PD120,40;\nPU160,0;PD160,40;\nPU200,0;PD200,40;\n"
              "SP7;\nPU0,0;PD0,40;\nPU40,0;PD40,40;\nPU80,0;PD80,40;\nPU0,0;SP0;\n");
}

TEST(HpglPens, GoThroughAllPiecesOneAfterTheOther) {
    const auto piece = with_line(Role::cut, {{0, 0}, {1, 0}}, false);
    EXPECT_EQ(hpgl(sheet_of({piece, piece}, {{0, 0}, {10, 5}}), {.part = 1, .draw = 0, .write = 0}),
              "IN;PA;\nSP1;\nPU0,0;PD40,0;\nPU400,200;PD440,200;\nPU0,0;SP0;\n");
}

TEST(HpglWords, BeginHalfTheirLengthBeforeTheirMiddle) {
    // By hand: letters 5 mm high are 2.75 mm wide and 4.125 mm apart; half of four is 8.25 mm, so
    // the first stands at 20 - 8.25 = 11.75 mm = 470 steps. Sizes are in cm.
    drawing::Drawing words;
    words.name = "1A";
    words.texts.push_back({{20, 10}, {0, 5}, "BOW.", false});
    EXPECT_EQ(hpgl(sheet_of({words}, {{0, 0}}), {.part = 0, .draw = 0, .write = 3}),
              "IN;PA;\nSP3;\nPU470,400;DI1.0000,0.0000;SI0.275,0.500;LBBOW.\x03;\nPU0,0;SP0;\n");
}

TEST(HpglWords, RunAlongTheirOwnWay) {
    // Up is to the left: the words climb; by hand, half of two letters of 2.2 x 1.5 mm is 3.3 mm.
    drawing::Drawing words;
    words.name = "1A";
    words.texts.push_back({{0, 0}, {-4, 0}, "UP", false});
    EXPECT_EQ(hpgl(sheet_of({words}, {{1, 5}}), {.part = 0, .draw = 0, .write = 3}),
              "IN;PA;\nSP3;\nPU40,68;DI0.0000,1.0000;SI0.220,0.400;LBUP\x03;\nPU0,0;SP0;\n");
}

TEST(HpglWords, AreInLettersThatAPlotterHas) {
    drawing::Drawing words;
    words.name = "1A";
    words.texts.push_back({{0, 0}, {0, 4}, "0.02 m²\x03 ü", false});
    const std::string plot = hpgl(sheet_of({words}, {{0, 0}}), {.part = 0, .draw = 0, .write = 3});
    EXPECT_NE(plot.find("LB0.02 m2  u\x03;"), std::string::npos) << plot;
}

}  // namespace
}  // namespace tearline::formats
