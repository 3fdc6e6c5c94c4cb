#include "core/paper/print_layout.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <string>

#include "core/paper/draw_plan.h"
#include "core/paper/ring_sheet.h"
#include "core/templates/ring_leaders.h"
#include "tests/unit/paper/shapes.h"

namespace tearline::paper {
namespace {

std::vector<std::string> ids(const std::vector<Drawing>& drawings) {
    std::vector<std::string> out;
    for (const Drawing& drawing : drawings) out.push_back(drawing.id);
    return out;
}

TEST(RingSheet, ServesPliesWhoseRingsAgree) {
    const auto sheet = ring_sheet(disc_plan({100, 112, 124}));
    ASSERT_TRUE(sheet);
    EXPECT_EQ(sheet->pieces.size(), 3u);
    EXPECT_NEAR(sheet->farthest_mm, 0.0, 1e-9);
}

TEST(RingSheet, IsRefusedFromTwoMillimetresOn) {
    // Concentric circles: their distance is the difference of the radii.
    PrintPlan plan = disc_plan({100, 112});
    plan.guide.rings[1].loops = {circle(113.9)};
    ASSERT_TRUE(ring_sheet(plan));
    EXPECT_NEAR(ring_sheet(plan)->farthest_mm, 1.9, 0.01);
    plan.guide.rings[1].loops = {circle(114.1)};
    EXPECT_FALSE(ring_sheet(plan));
}

TEST(RingSheet, IsRefusedForPliesInPiecesOrWithReliefCuts) {
    PrintPlan plan = disc_plan({100, 112});
    plan.pieces[0].outline.relief_cuts.push_back({"slit", {{0, 0}, {50, 0}}});
    EXPECT_FALSE(ring_sheet(plan));
    plan = disc_plan({100, 112});
    plan.pieces[1].ply = 1;
    EXPECT_FALSE(ring_sheet(plan));
    EXPECT_FALSE(ring_sheet(disc_plan({100})));
}

TEST(PrintLayout, OneRingSheetReplacesTheTemplatesOfMat) {
    PrintChoice choice;
    choice.less_paper = true;
    const auto drawn = ids(drawings_of(disc_plan({100, 112}), choice));
    EXPECT_EQ(drawn, (std::vector<std::string>{"notes", "grind guide", "ring sheet"}));
}

TEST(PrintLayout, PliesOffTheirRingsKeepTemplatesOfTheirOwn) {
    // Concentric circles: the first ply's ring is 5 mm off, the others agree.
    PrintPlan plan = disc_plan({100, 112, 124});
    plan.guide.rings[0].loops = {circle(105.0)};
    PrintChoice choice;
    choice.less_paper = true;
    EXPECT_EQ(ids(drawings_of(plan, choice)),
              (std::vector<std::string>{"notes", "grind guide", "ring sheet", "1A"}));
}

TEST(PrintLayout, HoldsEveryPieceByDefault) {
    const auto drawn = ids(drawings_of(disc_plan({100, 112}), {}));
    EXPECT_EQ(drawn, (std::vector<std::string>{"notes", "grind guide", "1A", "2A"}));
}

TEST(PrintLayout, EveryPageHasInkAndEveryDrawingAPage) {
    const auto layout = lay_out_print(disc_plan({60, 150, 300}), {});
    ASSERT_TRUE(layout) << layout.error().message;
    std::map<std::string, int> seen;
    for (const Page& page : layout->pages) {
        const Assembly& assembly = layout->assemblies[page.assembly];
        int inked = 0;
        for (const Drawing& drawing : assembly.drawings)
            if (has_ink(drawing, assembly.window_of(page.tile))) ++inked, ++seen[drawing.id];
        EXPECT_GT(inked, 0);
    }
    EXPECT_EQ(seen.size(), 5u);
}

TEST(PrintLayout, NoTemplateIsTurnedOnItsPage) {
    // By definition up points to the top of the page: whatever paper would save, words stand
    // upright.
    PrintPlan plan = disc_plan({60, 150, 300});
    for (PrintPiece& piece : plan.pieces)
        piece.outline.marks.push_back(templates::Label{{0, 0}, {0, 5}, "PLY " + piece.id});
    for (const bool less : {false, true})
        for (const char* paper : {"A4", "roll 914"}) {
            PrintChoice choice;
            choice.less_paper = less;
            choice.paper = *read_paper(paper);
            const auto layout = lay_out_print(plan, choice);
            ASSERT_TRUE(layout) << layout.error().message;
            for (const Assembly& assembly : layout->assemblies)
                for (const Drawing& drawing : assembly.drawings) {
                    if (drawing.id == "notes") continue;
                    EXPECT_EQ(drawing.lie, Lie::up_on_top) << drawing.id;
                    for (const Words& words : drawing.words)
                        if (words.text.starts_with("PLY ") || words.text == "GRIND GUIDE")
                            EXPECT_EQ(words.angle, 0.0) << drawing.id;
                }
        }
}

TEST(PrintLayout, RefusesScalesThatNoPrinterIsOffBy) {
    PrintChoice choice;
    for (const double scale : {0.0, 0.89, 1.11, std::nan("")}) {
        choice.print_scale = scale;
        const auto layout = lay_out_print(disc_plan({60, 72}), choice);
        ASSERT_FALSE(layout) << scale;
        EXPECT_NE(layout.error().message.find("100 %"), std::string::npos);
    }
}

TEST(PrintLayout, MirrorsTemplatesAndGuideButNoWords) {
    PrintPlan plan = disc_plan({60, 72});
    plan.pieces[0].outline.marks = {templates::Tick{{70, 10}, {80, 10}, ""},
                                    templates::Label{{5, 5}, {0, 4}, "THIS FACE TOWARDS YOU"}};
    PrintChoice choice;
    choice.mirrored = true;
    const auto drawings = drawings_of(plan, choice);
    const Drawing& piece = drawings[2];
    ASSERT_EQ(piece.id, "1A");
    EXPECT_EQ(piece.line_word, "MIRRORED TEAR");
    EXPECT_EQ(piece.strokes.back().points.front(), Vec2(-70, 10));
    const auto says = [&](const std::string& text) {
        return std::any_of(piece.words.begin(), piece.words.end(),
                           [&](const Words& words) { return words.text == text; });
    };
    EXPECT_TRUE(says("MIRRORED: THIS FACE TO THE HULL"));
    EXPECT_FALSE(says("THIS FACE TOWARDS YOU"));
    EXPECT_EQ(drawings[1].line_word, "MIRRORED GRIND");
    EXPECT_TRUE(says("TEAR  1A  MIRRORED"));
}

std::vector<std::string> said_by_the_guide(const PrintPlan& plan, bool mirrored) {
    PrintChoice choice;
    choice.mirrored = mirrored;
    std::vector<std::string> said;
    for (const Drawing& drawing : drawings_of(plan, choice))
        if (drawing.id == "grind guide")
            for (const Words& words : drawing.words) said.push_back(words.text);
    return said;
}

TEST(PrintLayout, TheGuideSaysWhatItIsOfWhichJobAndWhichFaceItShows) {
    PrintPlan plan = disc_plan({60, 72});
    plan.title = "Sandpiper dinghy, a long name that takes more than one line";
    plan.job_id = "205d4581";
    const auto has = [](const std::vector<std::string>& said, const std::string& text) {
        return std::count(said.begin(), said.end(), text) == 1;
    };
    const auto said = said_by_the_guide(plan, false);
    EXPECT_TRUE(has(said, "GRIND GUIDE"));
    EXPECT_TRUE(has(said, "THIS FACE TOWARDS YOU"));
    EXPECT_TRUE(has(said, "Sandpiper dinghy, a long"));
    EXPECT_TRUE(has(said, "model 205d4581"));
    const auto turned = said_by_the_guide(plan, true);
    EXPECT_TRUE(has(turned, "MIRRORED: THIS FACE TO THE HULL"));
    EXPECT_FALSE(has(turned, "THIS FACE TOWARDS YOU"));
}

TEST(PrintLayout, TheGuideSaysEachDirectionOnceUprightAndClearOfItsLines) {
    // By reading: "UP" again on the tape line beside the arrow that says so tells nothing.
    PrintPlan plan = disc_plan({60, 72});
    plan.guide.marks = {templates::Datum{{0, 0}, 5.0},
                        templates::Arrow{templates::Arrow::To::bow, {10, 0}, {40, 0}, "BOW"},
                        templates::Arrow{templates::Arrow::To::up, {0, 10}, {0, 40}, "UP"}};
    int tapes = 0;
    std::map<std::string, int> said;
    for (const Drawing& drawing : drawings_of(plan, {})) {
        if (drawing.id != "grind guide") continue;
        for (const Words& words : drawing.words) {
            const bool tape = words.text.find("TAPE") != std::string::npos;
            tapes += tape ? 1 : 0;
            for (const char* way : {"BOW", "UP"}) {
                if (words.text.find(way) == std::string::npos) continue;
                ++said[way];
                EXPECT_EQ(words.angle, 0.0) << way;
            }
            if (!tape) continue;
            Box box;
            for (const Vec2& corner : corners(words)) box.add(corner);
            Drawing lines = drawing;
            lines.words.clear();
            EXPECT_FALSE(has_ink(lines, box)) << "on a line";
        }
    }
    EXPECT_EQ(tapes, 4) << "at both ends of both lines";
    EXPECT_EQ(said, (std::map<std::string, int>{{"BOW", 1}, {"UP", 1}}));
}

TEST(PrintLayout, TheWordsOfAGuideTooSmallForThemStandBelowIt) {
    const PrintPlan plan = disc_plan({4, 6});
    double lowest = 0.0, word = 0.0;
    for (const Drawing& drawing : drawings_of(plan, {})) {
        if (drawing.id != "grind guide") continue;
        for (const Stroke& stroke : drawing.strokes)
            for (const Vec2& point : stroke.points) lowest = std::min(lowest, point.y());
        for (const Words& words : drawing.words)
            if (words.text == "GRIND GUIDE") word = words.middle.y() + 0.5 * words.height;
    }
    EXPECT_LT(word, lowest);
}

TEST(PrintLayout, SectionCardsShowDepthsAndTheScarfsEndAndNothingOfCovers) {
    // By hand: of rings with 2 mm, 0.3 mm and no depth, the scarf's edge, a cover's ring and the
    // gel coat's line, a level card shows the first two and the scarf's edge, at both sides.
    templates::GrindGuide guide;
    guide.rings = {{{circle(20)}, "", 2.0, 1}, {{circle(40)}, "", 0.3, 2},
                   {{circle(60)}, "", 0.0, 3}, {{circle(60)}, "", 0.0, -1},
                   {{circle(90)}, "", 0.0, 4}, {{circle(99)}, "", 0.0, -2}};
    const templates::Section level{"along", {{-120, 0}, {120, 0}}, 0.0, {"aft", "bow"}};
    std::map<std::string, std::vector<double>> found;
    for (const Words& words : draw_sections({level}, guide, Units::metric).words)
        if (words.angle == 90.0) found[words.text].push_back(std::abs(words.middle.x()));
    ASSERT_EQ(found.size(), 3u);
    for (const auto& [text, at] :
         std::map<std::string, double>{{"2.0", 20.0}, {"0.3", 40.0}, {"END", 60.0}}) {
        ASSERT_EQ(found[text].size(), 2u) << text;
        for (const double x : found[text]) EXPECT_NEAR(x, at, 0.1);
    }
}

/// Whether a line runs through the box of words, by points closer together than letters.
bool runs_through(const std::vector<Vec2>& line, bool closed, const Words& words) {
    const Loop2 box = corners(words);
    const std::size_t segments = line.size() - (closed ? 0 : 1);
    for (std::size_t i = 0; i < segments; ++i) {
        const Vec2 &a = line[i], &b = line[(i + 1) % line.size()];
        const int steps = 1 + static_cast<int>((b - a).norm() / 0.25);
        for (int k = 0; k <= steps; ++k)
            if (contains(box, a + double(k) / steps * (b - a))) return true;
    }
    return false;
}

bool cross(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
    const auto side = [](const Vec2& p, const Vec2& q, const Vec2& r) {
        return cross2(q - p, r - p) > 0.0;
    };
    return side(a, b, c) != side(a, b, d) && side(c, d, a) != side(c, d, b);
}

TEST(PrintLayout, ATightGuideNamesEveryRingOutsideWithNoLineThroughAName) {
    // By reading: rings 3.2 mm apart, closer than letters are high; the scarf's edge is also the
    // edge of the last ply and of the gel coat, and has a name for each.
    PrintPlan plan = disc_plan({40.0});
    plan.guide.footprint.outer = circle(56.0);
    plan.guide.marks = {templates::Datum{{0, 0}, 5.0},
                        templates::Arrow{templates::Arrow::To::bow, {10, 0}, {30, 0}, "BOW"},
                        templates::Arrow{templates::Arrow::To::up, {0, 10}, {0, 30}, "UP"},
                        templates::Tick{{48, 0}, {64, 0}, "bow"}};
    plan.guide.rings = {{{circle(40.0)}, "DAMAGE: GRIND TO 0.050 in", 1.27, 0}};
    for (int ply = 1; ply <= 5; ++ply)
        plan.guide.rings.push_back({{circle(40.0 + 3.2 * ply)},
                                    "PLY " + std::to_string(ply) + "  DEPTH 0.040 in",
                                    1.0,
                                    ply});
    plan.guide.rings.push_back({{circle(56.0)}, "SCARF EDGE: DEPTH 0", 0.0, -1});
    plan.guide.rings.push_back({{circle(56.0)}, "GEL COAT OFF TO HERE", 0.0, -2});
    templates::add_ring_leaders(plan.guide);

    const Drawing drawing = draw_grind_guide(plan);
    for (const auto& ring : plan.guide.rings) {
        ASSERT_EQ(ring.leader.size(), 3u) << ring.text;
        // By closed form: the leader begins on its ring.
        EXPECT_NEAR(ring.leader.front().norm(), ring.loops[0][0].norm(), 0.01) << ring.text;
        int said = 0;
        for (const Words& words : drawing.words) {
            if (words.text != ring.text) continue;
            ++said;
            for (const Stroke& stroke : drawing.strokes)
                EXPECT_FALSE(runs_through(stroke.points, stroke.closed, words)) << ring.text;
            for (const Words& other : drawing.words)
                EXPECT_TRUE(&other == &words || !runs_through(corners(other), true, words))
                    << ring.text << " and " << other.text;
        }
        EXPECT_EQ(said, 1) << ring.text;
    }
    const auto& rings = plan.guide.rings;
    for (std::size_t i = 0; i < rings.size(); ++i)
        for (std::size_t j = i + 1; j < rings.size(); ++j)
            for (int k = 0; k < 2; ++k)
                for (int l = 0; l < 2; ++l)
                    EXPECT_FALSE(cross(rings[i].leader[k], rings[i].leader[k + 1],
                                       rings[j].leader[l], rings[j].leader[l + 1]))
                        << rings[i].text << " and " << rings[j].text;
    for (std::size_t i = 1; i < rings.size(); ++i)
        EXPECT_GT(rings[i].leader.back().y(), rings[i - 1].leader.back().y());
}

TEST(PrintLayout, AGuideWithRoomNamesItsRingsBesideThem) {
    PrintPlan plan = disc_plan({100, 112, 124});
    templates::add_ring_leaders(plan.guide);
    for (const auto& ring : plan.guide.rings) EXPECT_TRUE(ring.leader.empty());
}

/// A card's tick with the line to its figure.
bool is_tick(const Stroke& stroke) {
    return !stroke.closed && stroke.points.size() == 3 &&
           stroke.points[0].x() == stroke.points[1].x();
}

TEST(PrintLayout, EachTickOfASectionCardHasItsFigureInTheOrderOfTheTicks) {
    // By hand: five depths and the scarf's end at each side, 3.2 mm apart, closer than figures.
    templates::GrindGuide guide;
    const std::vector<double> depths = {1.3, 1.0, 0.7, 0.5, 0.2};
    for (std::size_t i = 0; i < depths.size(); ++i)
        guide.rings.push_back({{circle(40.0 + 3.2 * double(i))}, "", depths[i], int(i)});
    guide.rings.push_back({{circle(56.0)}, "", 0.0, -1});
    const templates::Section level{"along", {{-120, 0}, {120, 0}}, 0.0, {"aft", "bow"}};
    const Drawing drawing = draw_sections({level}, guide, Units::metric);
    std::vector<std::pair<double, std::string>> figures;
    std::vector<double> ends;
    for (const Words& words : drawing.words) {
        if (words.angle != 90.0) continue;
        figures.emplace_back(words.middle.x(), words.text);
        for (const Stroke& stroke : drawing.strokes)
            EXPECT_FALSE(runs_through(stroke.points, stroke.closed, words)) << words.text;
        for (const Words& other : drawing.words)
            EXPECT_TRUE(&other == &words || !runs_through(corners(other), true, words))
                << words.text << " and " << other.text;
    }
    for (const Stroke& stroke : drawing.strokes)
        if (is_tick(stroke)) ends.push_back(stroke.points[2].x());
    std::sort(figures.begin(), figures.end());
    std::sort(ends.begin(), ends.end());
    const std::vector<std::string> order = {"END", "0.2", "0.5", "0.7", "1.0", "1.3",
                                            "1.3", "1.0", "0.7", "0.5", "0.2", "END"};
    ASSERT_EQ(figures.size(), order.size());
    ASSERT_EQ(ends.size(), order.size());
    for (std::size_t i = 0; i < order.size(); ++i) {
        EXPECT_EQ(figures[i].second, order[i]);
        EXPECT_NEAR(figures[i].first, ends[i], 1e-9);
    }
}

TEST(PrintLayout, ACardTooShortDropsTicksWithTheirFiguresAndSaysSo) {
    // By hand: 31 rings 0.5 mm apart at each side of a card of 60 mm, which holds 13 figures.
    templates::GrindGuide guide;
    for (int i = 0; i < 30; ++i)
        guide.rings.push_back({{circle(10.0 + 0.5 * i)}, "", 3.0 - 0.1 * i, i});
    guide.rings.push_back({{circle(25.0)}, "", 0.0, -1});
    const templates::Section level{"along", {{-30, 0}, {30, 0}}, 0.0, {"aft", "bow"}};
    const Drawing drawing = draw_sections({level}, guide, Units::metric);
    std::size_t figures = 0, ends = 0, ticks = 0;
    bool told = false;
    for (const Words& words : drawing.words) {
        figures += words.angle == 90.0 ? 1 : 0;
        ends += words.text == "END" ? 1 : 0;
        told = told || words.text.find("have no room") != std::string::npos;
    }
    for (const Stroke& stroke : drawing.strokes) ticks += is_tick(stroke) ? 1 : 0;
    EXPECT_EQ(ticks, figures);
    EXPECT_EQ(figures, 13u);
    EXPECT_EQ(ends, 2u);
    EXPECT_TRUE(told);
}

TEST(RingSheet, TellsEveryRingByItsDistanceFromTheDatum) {
    PrintChoice choice;
    choice.less_paper = true;
    const auto drawings = drawings_of(disc_plan({150, 162, 174}), choice);
    const auto sheet = std::find_if(drawings.begin(), drawings.end(), [](const Drawing& drawing) {
        return drawing.id == "ring sheet";
    });
    ASSERT_NE(sheet, drawings.end());
    std::map<std::string, int> said;
    for (const Words& words : sheet->words) ++said[words.text];
    EXPECT_EQ(said["net 1A"] + said["net 2A"] + said["net 3A"], 3);
    // Discs round the datum: the same at each of the 24 directions of 15 degrees.
    for (const char* radius : {"150.0", "162.0", "174.0"}) EXPECT_EQ(said[radius], 24) << radius;
}

TEST(RingSheet, HasNoTableWhereItsSmallestRingHasNoRoom) {
    PrintChoice choice;
    choice.less_paper = true;
    for (const Drawing& drawing : drawings_of(disc_plan({30, 42}), choice))
        for (const Words& words : drawing.words) EXPECT_NE(words.text, "net 1A");
}

TEST(Drawing, TurnsAndMovesStrokesAndWords) {
    Drawing drawing = outlined("a", rectangle(10, 4));
    drawing.words.push_back(words_at({10, 0}, 4.0, "TEAR"));
    const Drawing turned = placed(drawing, 90.0, {100, 0});
    EXPECT_LT((turned.strokes[0].points[1] - Vec2(100, 10)).norm(), 1e-12);
    EXPECT_LT((turned.words[0].middle - Vec2(100, 10)).norm(), 1e-12);
    EXPECT_DOUBLE_EQ(turned.words[0].angle, 90.0);
}

TEST(Drawing, HasInkWhereALineOnlyCrosses) {
    const Drawing drawing = outlined("a", rectangle(100, 100));
    EXPECT_TRUE(has_ink(drawing, {{40, -5}, {60, 5}}));
    EXPECT_FALSE(has_ink(drawing, {{40, 40}, {60, 60}}));
}

TEST(Drawing, WordsAlongALineNameItOnEverySide) {
    const Drawing piece = draw_piece(disc_plan({200, 212}).pieces[0]);
    int tear = 0;
    for (const Words& words : piece.words)
        if (words.text == "TEAR  1A") {
            ++tear;
            // Inside the tear line by half a letter's line and 0.8 mm, and by the 0.15 mm that a
            // circle of 220 mm radius rises over 8.1 mm, half of 8 letters of 0.56 x 3.6 mm; the
            // last of its points under that, 3.84 mm apart, may lie (8.06^2 - 4.22^2) / 440 =
            // 0.11 mm short of it.
            EXPECT_NEAR(words.middle.norm(), 220.0 - 1.8 - 0.8 - 8.064 * 8.064 / 440.0, 0.11);
        }
    // By hand: 2 pi 220 = 1382 mm at 130 mm each is 10.
    EXPECT_EQ(tear, 10);
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

TEST(PrintPlan, NamesWhatItCannotRead) {
    const auto message = [](const char* json) { return read_print_plan(json).error().message; };
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
