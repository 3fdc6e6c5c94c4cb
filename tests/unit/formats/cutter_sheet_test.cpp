#include "core/formats/cutter_sheet.h"

#include <gtest/gtest.h>

#include "core/drawing/words_on_piece.h"
#include "core/formats/hpgl.h"

namespace tearline::formats {
namespace {

drawing::Drawing triangle() {
    drawing::Drawing drawing;
    drawing.name = "1A";
    drawing.lines.push_back({drawing::Role::cut, {{0, 0}, {10, 0}, {10, 10}}, true});
    drawing.lines.push_back({drawing::Role::net, {{4, 1}, {8, 1}}, false});
    drawing.texts.push_back({{6, 2}, {0, 2.5}, "1A", false});
    return drawing;
}

CutterSheet sheet_of(const drawing::Drawing& drawing) {
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
    const drawing::Drawing::Line line{
        drawing::Role::cut, {{0, 0}, {0, 0}, {10, 0}, {10, 1e-5}, {10, 10}, {0, 0}}, true};
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

}  // namespace
}  // namespace tearline::formats
