#include "core/paper/print_layout.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <string>

#include "core/paper/read_plan_json.h"
#include "tests/unit/paper/shapes.h"

namespace tearline::paper {
namespace {

std::vector<std::string> ids(const std::vector<Drawing>& drawings) {
    std::vector<std::string> out;
    for (const Drawing& drawing : drawings) out.push_back(drawing.name);
    return out;
}

TEST(PrintLayout, OneRingSheetReplacesTheTemplatesOfMat) {
    PrintChoice choice;
    choice.less_paper = true;
    const auto drawn = ids(drawings_of(disc_set({100, 112}), choice));
    EXPECT_EQ(drawn, (std::vector<std::string>{"notes", "grind guide", "ring sheet"}));
}

TEST(PrintLayout, PliesOffTheirRingsKeepTemplatesOfTheirOwn) {
    // Concentric circles: the first ply's ring is 5 mm off, the others agree.
    TemplateSet set = disc_set({100, 112, 124});
    set.guide.rings[0].loops = {circle(105.0)};
    PrintChoice choice;
    choice.less_paper = true;
    EXPECT_EQ(ids(drawings_of(set, choice)),
              (std::vector<std::string>{"notes", "grind guide", "ring sheet", "1A"}));
}

TEST(PrintLayout, HoldsEveryPieceByDefault) {
    const auto drawn = ids(drawings_of(disc_set({100, 112}), {}));
    EXPECT_EQ(drawn, (std::vector<std::string>{"notes", "grind guide", "1A", "2A"}));
}

TEST(PrintLayout, EveryPageHasInkAndEveryDrawingAPage) {
    const auto layout = lay_out_print(disc_set({60, 150, 300}), {});
    ASSERT_TRUE(layout) << layout.error().message();
    std::map<std::string, int> seen;
    for (const Page& page : layout->pages) {
        const Assembly& assembly = layout->assemblies[page.assembly];
        int inked = 0;
        for (const Drawing& drawing : assembly.drawings)
            if (has_ink(drawing, assembly.window_of(page.tile))) ++inked, ++seen[drawing.name];
        EXPECT_GT(inked, 0);
    }
    EXPECT_EQ(seen.size(), 5u);
}

TEST(PrintLayout, NoTemplateIsTurnedOnItsPage) {
    // By definition up points to the top of the page: whatever paper would save, words stand
    // upright.
    TemplateSet set = disc_set({60, 150, 300});
    for (templates::PieceTemplate& piece : set.pieces)
        piece.outline.marks.push_back(templates::Label{{0, 0}, {0, 5}, "PLY " + piece.id});
    for (const bool less : {false, true})
        for (const char* paper : {"A4", "roll 914"}) {
            PrintChoice choice;
            choice.less_paper = less;
            choice.paper = *read_paper(paper);
            const auto layout = lay_out_print(set, choice);
            ASSERT_TRUE(layout) << layout.error().message();
            for (const Assembly& assembly : layout->assemblies)
                for (const Drawing& drawing : assembly.drawings) {
                    if (drawing.name == "notes") continue;
                    EXPECT_TRUE(drawing.up_on_top) << drawing.name;
                    for (const Drawing::Text& text : drawing.texts) {
                        if (!text.text.starts_with("PLY ") && text.text != "GRIND GUIDE") continue;
                        EXPECT_TRUE(drawing::is_upright(text)) << drawing.name;
                    }
                }
        }
}

TEST(PrintLayout, RefusesScalesThatNoPrinterIsOffBy) {
    PrintChoice choice;
    for (const double scale : {0.0, 0.89, 1.11, std::nan("")}) {
        choice.print_scale = scale;
        const auto layout = lay_out_print(disc_set({60, 72}), choice);
        ASSERT_FALSE(layout) << scale;
        EXPECT_NE(layout.error().message().find("100 %"), std::string::npos);
    }
}

TEST(PrintLayout, MirrorsTemplatesAndGuideButNoWords) {
    TemplateSet set = disc_set({60, 72});
    set.pieces[0].outline.marks = {templates::Tick{{70, 10}, {80, 10}, ""},
                                   templates::Label{{5, 5}, {0, 4}, "THIS FACE TOWARDS YOU"}};
    PrintChoice choice;
    choice.mirrored = true;
    const auto drawings = drawings_of(set, choice);
    const Drawing& piece = drawings[2];
    ASSERT_EQ(piece.name, "1A");
    EXPECT_EQ(piece.line_word, "MIRRORED TEAR");
    EXPECT_EQ(piece.lines.back().points.front(), Vec2(-70, 10));
    const auto says = [&](const std::string& text) {
        return std::any_of(piece.texts.begin(), piece.texts.end(),
                           [&](const Drawing::Text& each) { return each.text == text; });
    };
    EXPECT_TRUE(says("MIRRORED: THIS FACE TO THE HULL"));
    EXPECT_FALSE(says("THIS FACE TOWARDS YOU"));
    EXPECT_EQ(drawings[1].line_word, "MIRRORED GRIND");
    EXPECT_TRUE(says("TEAR  1A  MIRRORED"));
}

TEST(Ink, HasWhereALineOnlyCrosses) {
    const Drawing drawing = outlined("a", rectangle(100, 100));
    EXPECT_TRUE(has_ink(drawing, {{40, -5}, {60, 5}}));
    EXPECT_FALSE(has_ink(drawing, {{40, 40}, {60, 60}}));
}

TEST(Paper, KnowsNamesAndRollsOfAnyWidth) {
    EXPECT_DOUBLE_EQ(read_paper("letter")->width, 215.9);
    EXPECT_DOUBLE_EQ(read_paper("A3")->height, 420.0);
    EXPECT_DOUBLE_EQ(read_paper("roll 36 in")->width, 914.4);
    EXPECT_DOUBLE_EQ(read_paper("800 mm")->width, 800.0);
    EXPECT_TRUE(read_paper("1067")->roll);
    for (const char* wrong : {"A7", "", "roll", "roll 100", "roll nan", "6000", "roll -800"})
        EXPECT_FALSE(read_paper(wrong)) << wrong;
}

TEST(ReadPlanJson, NamesWhatItCannotRead) {
    const auto message = [](const char* json) { return read_plan_json(json).error().message(); };
    EXPECT_NE(message("[]").find("schema"), std::string::npos);
    EXPECT_NE(message(R"({"schema":"tearline-plan/1"})").find("plan.job"), std::string::npos);
    EXPECT_NE(message(R"({"schema":"tearline-plan/1","job":{},"plies":[]})").find("no piece"),
              std::string::npos);
    EXPECT_NE(message(R"({"schema":"tearline-plan/1","job":{},"plies":[{"number":1,"fabric":"f",
        "kind":"mat","pieces":[{"id":"1A","net_line":[[0,0],[1,0]]}]}]})")
                  .find("fewer than three"),
              std::string::npos);
}

}  // namespace
}  // namespace tearline::paper
