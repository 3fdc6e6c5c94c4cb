#include "core/paper/paint_page.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/drawing/line_style.h"
#include "tests/unit/paint/painted_page.h"
#include "tests/unit/paper/shapes.h"

namespace tearline::paper::paint_page_test {
namespace {

PrintLayout laid_out(const TemplateSet& set, const PrintChoice& choice = {}) {
    auto layout = lay_out_print(set, choice);
    EXPECT_TRUE(layout) << layout.error().message();
    return layout ? *layout : PrintLayout{};
}

PrintChoice only(const std::string& id) {
    PrintChoice choice;
    choice.only = {id};
    return choice;
}

/// Where a place of an assembly has to come out on a page [mm from the upper left]: by the
/// definition of the frame, without the painter's transforms.
QPointF on_page(const PrintLayout& layout, std::size_t page, const Vec2& at) {
    const Assembly& assembly = layout.assemblies[layout.pages[page].assembly];
    const Tile tile = layout.pages[page].tile;
    const Vec2 corner(tile.column * assembly.pitch.x(), tile.row * assembly.pitch.y());
    const Vec2 from_low = assembly.frame.window.low + at - corner;
    const double scale = layout.choice.print_scale;
    return {scale * from_low.x(), scale * (assembly.frame.paper.y() - from_low.y())};
}

double apart(const QPointF& a, const QPointF& b) {
    return std::hypot(a.x() - b.x(), a.y() - b.y());
}

/// Only the tear line, which is what the paper of these tests has.
const Painted::Line* line_through(const Painted& page, const QPointF& at) {
    for (const Painted::Line& line : page.lines)
        for (const QPointF& point : line.points)
            if (apart(point, at) < 1e-6) return &line;
    return nullptr;
}

TEST(PaintPage, PutsEveryPointOfATemplateWhereTheRulerFindsIt) {
    // Second route: the frame's definition, page by page, at a printer's correction too.
    for (const double scale : {1.0, 1.0142, 0.93}) {
        PrintChoice choice = only("1A");
        choice.print_scale = scale;
        const PrintLayout layout = laid_out(disc_set({95}), choice);
        ASSERT_GT(layout.pages.size(), 1u);
        for (std::size_t page = 0; page < layout.pages.size(); ++page) {
            const Painted recorder = painted_page(layout, page);
            const Assembly& assembly = layout.assemblies[layout.pages[page].assembly];
            for (const Drawing::Line& line : assembly.drawings.front().lines)
                for (std::size_t i = 0; i < line.points.size(); i += 45)
                    EXPECT_TRUE(line_through(recorder, on_page(layout, page, line.points[i])))
                        << scale << " " << page << " " << line.points[i].transpose();
        }
    }
}

TEST(PaintPage, DrawsEachLineInTheWidthAndDashesOfItsRole) {
    // core/drawing/line_style.h has them in mm; a pen counts dashes in widths of its own.
    PrintLayout layout = laid_out(disc_set({60}), only("1A"));
    ASSERT_EQ(layout.pages.size(), 1u);
    Drawing& drawing = layout.assemblies[0].drawings[0];
    for (const double scale : {1.0, 1.02})
        for (const drawing::Role role :
             {drawing::Role::tear, drawing::Role::torn_hole, drawing::Role::cut,
              drawing::Role::hole, drawing::Role::relief, drawing::Role::net, drawing::Role::ring,
              drawing::Role::next_edge, drawing::Role::fold, drawing::Role::kerf,
              drawing::Role::datum, drawing::Role::arrow, drawing::Role::tick, drawing::Role::tape,
              drawing::Role::frame}) {
            layout.choice.print_scale = scale;
            drawing.lines = {{role, {{20, 20}, {60, 20}, {60, 50}}, false}};
            const Painted page = painted_page(layout, 0);
            const Painted::Line* line = line_through(page, on_page(layout, 0, {60, 20}));
            ASSERT_TRUE(line);
            const drawing::LineStyle style = drawing::line_style(role).value();
            EXPECT_NEAR(line->width, scale * style.width, 1e-9);
            EXPECT_FALSE(line->closed) << "an open line must not come back to where it began";
            EXPECT_FALSE(line->filled.isValid());
            if (style.dash[0] == 0.0) {
                EXPECT_TRUE(line->dash.empty());
            } else {
                ASSERT_EQ(line->dash.size(), 2);
                EXPECT_NEAR(line->dash[0], scale * style.dash[0], 1e-9);
                EXPECT_NEAR(line->dash[1], scale * style.dash[1], 1e-9);
            }
        }
}

TEST(PaintPage, DrawsEveryPieceOnEveryPageThatShowsItAndOnNoOther) {
    const PrintLayout layout = laid_out(disc_set({60, 95}));
    for (std::size_t page = 0; page < layout.pages.size(); ++page) {
        const Painted recorder = painted_page(layout, page);
        const Assembly& assembly = layout.assemblies[layout.pages[page].assembly];
        const Box window = assembly.window_of(layout.pages[page].tile);
        for (const Drawing& drawing : assembly.drawings) {
            ASSERT_FALSE(drawing.lines.empty());
            const Vec2 first = drawing.lines[0].points[0];
            EXPECT_EQ(line_through(recorder, on_page(layout, page, first)) != nullptr,
                      has_ink(drawing, window))
                << drawing.name << " on page " << page;
        }
    }
}

TEST(PaintPage, NumbersItsTicksByTheirPlaceFromTheCornerOfTheWhole) {
    // The notes promise it: numbered ticks of two pages meet, for they count from one corner. By
    // hand: at a tick "250" the rule laid from the corner reads 250 mm.
    const PrintLayout layout = laid_out(disc_set({150}), only("1A"));
    int numbers = 0, beyond_the_first_page = 0;
    for (std::size_t page = 0; page < layout.pages.size(); ++page) {
        const Box window =
            layout.assemblies[layout.pages[page].assembly].window_of(layout.pages[page].tile);
        for (const Painted::Words& words : painted_page(layout, page).words) {
            bool number = false;
            const int at = words.text.toInt(&number);
            if (!number) continue;
            ++numbers;
            const QPointF across = on_page(layout, page, Vec2(at, window.low.y()));
            const QPointF up = on_page(layout, page, Vec2(window.low.x(), at));
            constexpr double letters = 0.05;  // [mm] whose widths a font rounds
            EXPECT_TRUE(std::abs(words.middle().x() - across.x()) < letters ||
                        std::abs(words.middle().y() - up.y()) < letters)
                << words.said();
            EXPECT_EQ(at % 50, 0);
            if (at > 200) ++beyond_the_first_page;
        }
    }
    EXPECT_GT(numbers, 20);
    EXPECT_GT(beyond_the_first_page, 5);
}

TEST(PaintPage, HasATickEveryTenMillimetresOnAllFourSides) {
    const PrintLayout layout = laid_out(disc_set({60}), only("1A"));
    const Painted page = painted_page(layout, 0);
    const Box window = layout.assemblies[0].window_of({0, 0});
    for (double at = 10.0; at <= window.high.x(); at += 10.0)
        for (const double side : {window.low.y(), window.high.y()})
            EXPECT_TRUE(line_through(page, on_page(layout, 0, {at, side}))) << at;
    for (double at = 10.0; at <= window.high.y(); at += 10.0)
        for (const double side : {window.low.x(), window.high.x()})
            EXPECT_TRUE(line_through(page, on_page(layout, 0, {side, at}))) << at;
}

/// Words on a page that begin or end in some way.
std::vector<Painted::Words> words_with(const Painted& page, const QString& part) {
    std::vector<Painted::Words> found;
    for (const Painted::Words& words : page.words)
        if (words.text.contains(part)) found.push_back(words);
    return found;
}

TEST(PaintPage, SaysWhatIsGluedOverItAndWhichOfItsSidesIsTrimmed) {
    // By the rule of the notes: the page to the right and the one above are glued over this one, so
    // a page with a neighbour to its left or below trims those sides.
    const PrintLayout layout = laid_out(disc_set({150}), only("1A"));
    ASSERT_GT(layout.pages.size(), 3u);
    for (std::size_t page = 0; page < layout.pages.size(); ++page) {
        const Painted recorder = painted_page(layout, page);
        const Assembly& assembly = layout.assemblies[layout.pages[page].assembly];
        const Tile at = layout.pages[page].tile;
        const auto next = [&](int dx, int dy) { return Tile{at.column + dx, at.row + dy}; };
        std::vector<std::string> glued;
        for (const Painted::Words& words : words_with(recorder, "glue "))
            glued.push_back(words.said());
        std::vector<std::string> wanted;
        for (const Tile& tile : {next(1, 0), next(0, 1)})
            if (assembly.has(tile))
                wanted.push_back("glue " + tile_name(tile, assembly.rows) + " over this");
        EXPECT_EQ(glued, wanted) << page;
        EXPECT_EQ(words_with(recorder, "TRIM along").size(),
                  static_cast<std::size_t>(assembly.has(next(-1, 0)) + assembly.has(next(0, -1))));
        // The dashed line stands where the neighbour's frame comes to lie.
        const Box window = assembly.window_of(at);
        if (assembly.has(next(1, 0))) {
            EXPECT_TRUE(line_through(
                recorder,
                on_page(layout, page, {assembly.window_of(next(1, 0)).low.x(), window.low.y()})));
        }
        if (assembly.has(next(0, 1))) {
            EXPECT_TRUE(line_through(
                recorder,
                on_page(layout, page, {window.low.x(), assembly.window_of(next(0, 1)).low.y()})));
        }
    }
}

TEST(PaintPage, OfOneAlonePieceSpeaksOfNoGlue) {
    const Painted page = painted_page(laid_out(disc_set({60}), only("1A")), 0);
    EXPECT_TRUE(words_with(page, "glue").empty());
    EXPECT_TRUE(words_with(page, "TRIM").empty());
    EXPECT_TRUE(words_with(page, "tile").empty());
}

TEST(PaintPage, WordsAreAsHighAsAskedAndNeverWiderThanTheirRoom) {
    // DejaVu Sans' capitals are 0.729 of its em; the room is what the drawing kept free for them.
    PrintLayout layout = laid_out(disc_set({60}), only("1A"));
    Drawing& drawing = layout.assemblies[0].drawings[0];
    drawing.lines.resize(1);
    const std::string wide(60, 'W');
    drawing.texts.clear();
    for (const double turn : {0.0, 30.0, 90.0, 200.0}) {
        Drawing::Text words{{90, 120}, Vec2(0, 3), wide + std::to_string(int(turn))};
        const double angle = turn * std::numbers::pi / 180.0;
        words.up = 3.0 * Vec2(-std::sin(angle), std::cos(angle));
        words.width = 50.0;
        words.from_left = turn == 90.0;
        drawing.texts.push_back(words);
    }
    const Painted page = painted_page(layout, 0);
    for (const Drawing::Text& text : drawing.texts) {
        const auto found = words_with(page, QString::fromStdString(text.text));
        ASSERT_EQ(found.size(), 1u);
        EXPECT_NEAR(found[0].height, 3.0, 1e-6);
        EXPECT_NEAR(found[0].width(), 50.0, 0.1) << "squeezed into its room, not clipped";
        const QPointF base = on_page(layout, 0, text.base);
        const QPointF stands =
            text.from_left ? found[0].box[0] : 0.5 * (found[0].box[0] + found[0].box[1]);
        EXPECT_LT(apart(stands, base), 0.1) << text.text;
        // The way up on paper, whose y points down.
        const QPointF up = found[0].box[3] - found[0].box[0];
        EXPECT_NEAR(up.x(), text.up.x(), 1e-6);
        EXPECT_NEAR(up.y(), -text.up.y(), 1e-6);
    }
}

TEST(PaintPage, LettersInBoldWhatTheDrawingSaysIsHeavy) {
    PrintLayout layout = laid_out(disc_set({60}), only("1A"));
    Drawing& drawing = layout.assemblies[0].drawings[0];
    Drawing::Text plain{{80, 100}, {0, 3}, "plain words"}, bold = plain, warned = plain,
                                                           large = plain, empty = plain;
    bold.text = "bold words", bold.bold = true;
    warned.text = "warning words", warned.warning = true;
    large.text = "large words", large.up = {0, bold_from};
    empty.text = "";
    drawing.texts = {plain, bold, warned, large, empty};
    const Painted page = painted_page(layout, 0);
    for (const auto& [said, heavy] : {std::pair{"plain words", false},
                                      {"bold words", true},
                                      {"warning words", true},
                                      {"large words", true}}) {
        const auto found = words_with(page, said);
        ASSERT_EQ(found.size(), 1u) << said;
        EXPECT_EQ(found[0].bold, heavy) << said;
    }
}

TEST(PaintPage, WordsOfControlBytesAndOtherScriptsEndTheSameWay) {
    // Nothing that a name may hold takes the page or its other words away.
    PrintLayout layout = laid_out(disc_set({60}), only("1A"));
    Drawing& drawing = layout.assemblies[0].drawings[0];
    for (const char* hostile :
         {"\x01\x02", "\xff\xfe", "\n\n", " ", "\xe2\x80\xae", "Ягода λίμνη"}) {
        drawing.texts = {{{80, 100}, {0, 3}, hostile}, {{80, 60}, {0, 3}, "AFTER IT"}};
        const Painted page = painted_page(layout, 0);
        ASSERT_EQ(words_with(page, "AFTER IT").size(), 1u) << hostile;
        for (const Painted::Words& words : page.words)
            for (const QPointF& corner : words.box)
                EXPECT_TRUE(std::isfinite(corner.x()) && std::isfinite(corner.y())) << hostile;
    }
}

}  // namespace
}  // namespace tearline::paper::paint_page_test
