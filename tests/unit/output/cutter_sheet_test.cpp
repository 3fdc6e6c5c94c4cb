#include "core/output/cutter_sheet.h"

#include <gtest/gtest.h>

#include "core/output/hpgl.h"
#include "core/output/words_on_piece.h"

namespace tearline::output {
namespace {

Drawing triangle() {
    Drawing drawing;
    drawing.name = "1A";
    drawing.lines.push_back({Role::cut, {{0, 0}, {10, 0}, {10, 10}}, true});
    drawing.lines.push_back({Role::net, {{4, 1}, {8, 1}}, false});
    drawing.texts.push_back({{6, 2}, {0, 2.5}, "1A", false});
    return drawing;
}

CutterSheet sheet_of(const Drawing& drawing) {
    CutterSheet sheet;
    sheet.drawings = {drawing};
    sheet.places = {Vec2(5, 5)};
    return sheet;
}

TEST(Hpgl, CutsWithThePenThatWasChosen) {
    // By hand: 40 steps to the mm, everything moved by 5 mm; pen 0 leaves its lines out.
    EXPECT_EQ(hpgl(sheet_of(triangle()), {.part = 3, .draw = 0, .write = 0}),
              "IN;PA;\nSP3;\nPU200,200;PD600,200,600,600,200,200;\nPU0,0;SP0;\n");
}

TEST(Hpgl, DrawsBeforeItCuts) {
    const std::string plot = hpgl(sheet_of(triangle()), {.part = 2, .draw = 5, .write = 0});
    EXPECT_EQ(plot,
              "IN;PA;\nSP5;\nPU360,240;PD520,240;\nSP2;\nPU200,200;PD600,200,600,600,200,200;\n"
              "PU0,0;SP0;\n");
}

TEST(CutterPoints, HoldNoPointTwice) {
    const Drawing::Line line{
        Role::cut, {{0, 0}, {0, 0}, {10, 0}, {10, 1e-5}, {10, 10}, {0, 0}}, true};
    const auto points = cutter_points(line, {});
    ASSERT_EQ(points.size(), 3u);
    EXPECT_EQ(points[0].at, Vec2(0, 0));
    EXPECT_EQ(points[1].at, Vec2(10, 0));
    EXPECT_EQ(points[2].at, Vec2(10, 10));
}

TEST(SheetWords, SayWhoseAffairTheKnifeIs) {
    CutterSheet sheet;
    sheet.copies = 3;
    std::string all;
    for (const std::string& line : sheet_words(sheet)) all += line + "\n";
    for (const char* words : {"MILLIMETRES", "MAKE 3 OF EACH", "kerf", "Overcut", "drag knife"})
        EXPECT_NE(all.find(words), std::string::npos) << words;
}

TEST(WordsPlace, LiesOnThePieceAndOnNoLine) {
    // A square of 100 mm with a line across its middle: the word goes beside the line.
    Drawing drawing;
    drawing.lines.push_back({Role::cut, {{0, 0}, {100, 0}, {100, 100}, {0, 100}}, true});
    drawing.lines.push_back({Role::fibre, {{0, 50}, {100, 50}}, false});
    const WordsPlace place = words_place(drawing, {"MIRRORED"}, {8.0, 4.0});
    EXPECT_TRUE(place.free);
    EXPECT_EQ(place.height, 8.0);
    EXPECT_TRUE(place.low.y() > 50.0 || place.low.y() + place.height < 50.0);
    EXPECT_GT(place.low.x(), 0.0);
    EXPECT_LT(place.low.x() + words_width("MIRRORED", place.height), 100.0);
}

TEST(WordsPlace, TakesSmallerLettersOnASmallPieceAndSaysWhenThereIsNoRoom) {
    Drawing drawing;
    drawing.lines.push_back({Role::cut, {{0, 0}, {40, 0}, {40, 15}, {0, 15}}, true});
    EXPECT_LT(words_place(drawing, {"MIRRORED"}, {12.0, 4.0}).height, 12.0);
    drawing.lines.front().points = {{0, 0}, {8, 0}, {8, 2}, {0, 2}};
    EXPECT_FALSE(words_place(drawing, {"MIRRORED"}, {12.0, 4.0}).free);
}

}  // namespace
}  // namespace tearline::output
