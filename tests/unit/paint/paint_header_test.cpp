#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "tests/unit/paint/painted_page.h"
#include "tests/unit/paper/shapes.h"

// What stands beside the window of a printed page: measured in mm on the paper.
namespace tearline::paper {
namespace {

PrintLayout laid_out(const std::string& paper, double scale = 1.0, double radius = 60.0,
                     Units units = Units::metric) {
    TemplateSet set = disc_set({radius});
    set.units = units;
    set.job_id = "0123abcd";
    PrintChoice choice;
    choice.only = {"1A"};
    choice.paper = read_paper(paper).value();
    choice.print_scale = scale;
    auto layout = lay_out_print(set, choice);
    EXPECT_TRUE(layout) << layout.error().message();
    return layout ? *layout : PrintLayout{};
}

/// A piece spread over so many pages a side, without the search for the best place of it: the
/// header hangs on the frame alone.
PrintLayout spread(const std::string& paper, double scale, int pages) {
    PrintLayout layout;
    layout.choice.paper = read_paper(paper).value();
    layout.choice.print_scale = scale;
    layout.title = "Sandpiper";
    Assembly assembly;
    const Paper& on = layout.choice.paper;
    assembly.frame =
        page_frame({on.width, on.roll ? paper_height_for(200.0, scale) : on.height}, scale);
    assembly.pitch = assembly.frame.window.size() - Vec2(glue_overlap, glue_overlap);
    assembly.columns = assembly.rows = pages;
    for (int row = pages; row-- > 0;)
        for (int column = 0; column < pages; ++column) assembly.tiles.push_back({column, row});
    const Vec2 all = pages * assembly.pitch;
    Drawing piece = outlined("1A", rectangle(0.9 * all.x(), 0.9 * all.y()));
    piece.line_word = "TEAR";
    assembly.drawings = {piece};
    layout.assemblies = {assembly};
    for (const Tile& tile : assembly.tiles) layout.pages.push_back({0, tile});
    return layout;
}

/// Every paper that a person may choose, the narrowest roll among them, and every correction.
constexpr const char* papers[] = {"A4",       "A3",       "Letter",     "Tabloid",
                                  "roll 250", "roll 610", "roll 36 in", "roll 1067"};
constexpr double scales[] = {least_print_scale, 1.0, 1.0142, most_print_scale};

struct Header {
    Painted page;
    std::vector<QRectF> bars;  ///< across from the top down, then the upright one
    QRectF circle;
};

Header header_of(const PrintLayout& layout, std::size_t page = 0) {
    Header found{painted_page(layout, page), {}, {}};
    for (const QRectF& area : found.page.filled_with(Qt::black)) found.bars.push_back(area);
    for (const Painted::Words& words : found.page.words)
        for (const Painted::Line& line : found.page.lines)
            if (words.said() == "circle 20 mm" && line.points.size() > 20 &&
                line.box().contains(words.middle()))
                found.circle = line.box();
    return found;
}

TEST(PaintHeader, BarsAndCircleAreAsLongAsTheirWordsSayOnEveryPaper) {
    // 1 in is 25.4 mm; a corrected print is drawn longer by the correction, so that it comes out
    // of a printer that prints short as long as its words say.
    for (const char* paper : papers)
        for (const double scale : scales) {
            SCOPED_TRACE(std::string(paper) + " " + std::to_string(scale));
            const PrintLayout layout = spread(paper, scale, 1);
            const Header header = header_of(layout);
            ASSERT_EQ(header.bars.size(), 3u);
            const bool wide = read_paper(paper)->width / scale >= 260.0;
            EXPECT_NEAR(header.bars[0].width(), (wide ? 150.0 : 100.0) * scale, 1e-6);
            EXPECT_NEAR(header.bars[1].width(), (wide ? 6.0 : 4.0) * 25.4 * scale, 1e-6);
            EXPECT_NEAR(header.bars[2].height(), (wide ? 150.0 : 100.0) * scale, 1e-6);
            EXPECT_NEAR(header.circle.width(), 20.0 * scale, 0.01);
            EXPECT_NEAR(header.circle.height(), 20.0 * scale, 0.01);
            const auto says = [&](const QString& words) {
                return std::any_of(header.page.words.begin(), header.page.words.end(),
                                   [&](const auto& each) { return each.text.startsWith(words); });
            };
            EXPECT_TRUE(says(wide ? "check bar 150 mm" : "check bar 100 mm"));
            EXPECT_TRUE(says(wide ? "check bar 6 in" : "check bar 4 in"));
            EXPECT_TRUE(says(wide ? "150 mm upright" : "100 mm upright"));
            EXPECT_TRUE(says("circle 20 mm"));
        }
}

/// Words of the header: all but the window's own.
std::vector<Painted::Words> header_words(const PrintLayout& layout, const Painted& page) {
    const PageFrame& frame = layout.assemblies[0].frame;
    const double bottom = (frame.paper.y() - frame.header.low.y()) * layout.choice.print_scale;
    std::vector<Painted::Words> found;
    for (const Painted::Words& words : page.words)
        if (words.box.boundingRect().bottom() < bottom) found.push_back(words);
    return found;
}

TEST(PaintHeader, NothingOfItStandsOnAnythingElseOnAnyPaper) {
    // What is read must be read whole, whatever is said: with the longest title, on every paper.
    for (const char* paper : papers)
        for (const double scale : {least_print_scale, most_print_scale})
            for (const int pages : {1, 5}) {
                SCOPED_TRACE(std::string(paper) + " " + std::to_string(scale));
                PrintLayout layout = spread(paper, scale, pages);
                layout.units = Units::us;
                layout.title = std::string(120, 'W');
                layout.choice.mirrored = true;
                const Header header = header_of(layout);
                std::vector<QRectF> taken = header.bars;
                taken.push_back(header.circle);
                const auto words = header_words(layout, header.page);
                ASSERT_GE(words.size(), 6u);
                std::vector<QRectF> boxes;
                for (const Painted::Words& each : words) boxes.push_back(each.box.boundingRect());
                for (std::size_t i = 0; i < boxes.size(); ++i) {
                    for (std::size_t j = 0; j < i; ++j)
                        EXPECT_FALSE(boxes[i].intersects(boxes[j]))
                            << words[i].said() << " | " << words[j].said();
                    for (const QRectF& shape : taken) {
                        const bool own = words[i].said() == "circle 20 mm";
                        if (own)
                            EXPECT_TRUE(header.circle.contains(boxes[i]));
                        else
                            EXPECT_FALSE(boxes[i].intersects(shape)) << words[i].said();
                    }
                }
                for (std::size_t i = 0; i < taken.size(); ++i)
                    for (std::size_t j = 0; j < i; ++j)
                        EXPECT_FALSE(taken[i].intersects(taken[j])) << i << " " << j;
            }
}

TEST(PaintHeader, KeepsClearOfTheMarginThatHomePrintersCannotReach) {
    for (const char* paper : papers)
        for (const double scale : scales) {
            const PrintLayout layout = spread(paper, scale, 1);
            const Vec2 size = layout.assemblies[0].frame.paper;
            const double margin = page_margin - 0.7;  // the frame's line and its clip
            const QRectF reach(margin * scale, margin * scale, (size.x() - 2 * margin) * scale,
                               (size.y() - 2 * margin) * scale);
            const Header header = header_of(layout);
            for (const QRectF& bar : header.bars) EXPECT_TRUE(reach.contains(bar)) << paper;
            EXPECT_TRUE(reach.contains(header.circle)) << paper;
            for (const Painted::Words& words : header_words(layout, header.page))
                EXPECT_TRUE(reach.contains(words.box.boundingRect()))
                    << paper << " " << words.said();
        }
}

std::string said_on(const PrintLayout& layout, std::size_t page) {
    std::string all;
    for (const Painted::Words& words : painted_page(layout, page).words) all += words.said() + "\n";
    return all;
}

bool says(const std::string& all, const std::string& words) {
    return all.find(words) != std::string::npos;
}

TEST(PaintHeader, SaysOnEveryPageWhichItIsAndWhereItBelongs) {
    const PrintLayout layout = laid_out("A4", 1.0, 150.0);
    const std::size_t count = layout.pages.size();
    ASSERT_GT(count, 3u);
    for (std::size_t page = 0; page < count; ++page) {
        const std::string all = said_on(layout, page);
        EXPECT_TRUE(says(all, "sheet " + std::to_string(page + 1) + " of " + std::to_string(count) +
                                  ", tile " +
                                  tile_name(layout.pages[page].tile, layout.assemblies[0].rows) +
                                  " of " + std::to_string(count)))
            << all;
        EXPECT_TRUE(says(all, "Sandpiper   model 0123abcd"));
        EXPECT_TRUE(says(all, "1A TEAR"));
        EXPECT_TRUE(says(all, "PRINT AT 100 % (actual size)"));
    }
}

TEST(PaintHeader, OfACorrectedPrintSaysNotToCorrectItAgainInTheReadersUnits) {
    EXPECT_TRUE(says(said_on(laid_out("A4"), 0), "print scale 1 (not corrected)"));
    EXPECT_TRUE(says(said_on(laid_out("A4", 1.0142), 0),
                     "print scale 1.0142 IS IN THIS SHEET: the 100 mm bar must now measure 100 mm; "
                     "do not correct again"));
    // The notes tell a reader of inches to measure the bar of inches.
    EXPECT_TRUE(says(said_on(laid_out("Letter", 1.0142, 60.0, Units::us), 0),
                     "the 4 in bar must now measure 4 in; do not correct again"));
    EXPECT_TRUE(says(said_on(laid_out("roll 914", 0.99, 60.0, Units::us), 0),
                     "the 6 in bar must now measure 6 in; do not correct again"));
}

TEST(PaintHeader, SaysHowFarTicksAreApartInTheReadersUnits) {
    // By definition of the inch: 10 mm / 25.4 = 0.394 in.
    EXPECT_TRUE(says(said_on(laid_out("A4"), 0), "ticks every 10 mm"));
    EXPECT_TRUE(
        says(said_on(laid_out("A4", 1.0, 60.0, Units::us), 0), "ticks every 0.394 in (10 mm)"));
}

TEST(PaintHeader, MirroredIsSaidFirst) {
    PrintLayout layout = laid_out("A4");
    EXPECT_FALSE(says(said_on(layout, 0), "MIRRORED"));
    layout.choice.mirrored = true;
    EXPECT_TRUE(says(said_on(layout, 0), "MIRRORED   1A TEAR"));
}

TEST(PaintHeader, WithoutATitleTheModelStandsForIt) {
    PrintLayout layout = laid_out("A4");
    layout.model = "curlew.step";
    EXPECT_FALSE(says(said_on(layout, 0), "curlew.step"));
    layout.title = "";
    EXPECT_TRUE(says(said_on(layout, 0), "curlew.step   model 0123abcd"));
}

TEST(PaintHeader, NamesAsManyDrawingsAsCanBeReadAndCountsTheOthers) {
    // Letters pressed to less than about half of their width cannot be read; no piece is passed
    // over in silence.
    for (const int pieces : {3, 12, 70}) {
        PrintLayout layout = spread("roll 914", 1.0, 1);
        Assembly& assembly = layout.assemblies[0];
        const Drawing piece = assembly.drawings[0];
        assembly.drawings.clear();
        for (int k = 1; k <= pieces; ++k) {
            assembly.drawings.push_back(piece);
            assembly.drawings.back().name = "R" + std::to_string(k) + "-2A";
        }
        const Painted page = painted_page(layout, 0);
        const Painted::Words* line = nullptr;
        for (const Painted::Words& words : page.words)
            if (words.text.startsWith("R1-2A TEAR")) line = &words;
        ASSERT_TRUE(line);
        EXPECT_GT(line->width(), 0.5 * text_width(line->said(), 2.2)) << line->said();
        const int named = line->text.count("TEAR");
        const QString more = "and " + QString::number(pieces - named) + " more";
        EXPECT_EQ(line->text.endsWith(more), named < pieces) << line->said();
        if (pieces == 3) {
            EXPECT_EQ(named, 3);
        } else if (pieces == 70) {
            EXPECT_LT(named, 70);
        }
        EXPECT_GT(named, 2);
    }
}

TEST(PaintHeader, ItsMapHasEveryTileOnceAndThisOneGrey) {
    const PrintLayout layout = laid_out("A4", 1.0, 150.0);
    const Assembly& assembly = layout.assemblies[0];
    for (std::size_t page = 0; page < layout.pages.size(); ++page) {
        const Painted recorder = painted_page(layout, page);
        const std::vector<QRectF> grey = recorder.filled_with(QColor(190, 190, 190));
        ASSERT_EQ(grey.size(), 1u);
        // On a small scale, in the shape of the window.
        const Vec2 window = assembly.frame.window.size();
        EXPECT_NEAR(grey[0].width() / grey[0].height(), window.x() / window.y(), 1e-9);
        EXPECT_LT(grey[0].width(), window.x() / 4.0);
        const std::string name = tile_name(layout.pages[page].tile, assembly.rows);
        int named = 0, boxes = 0;
        for (const Painted::Words& words : recorder.words)
            if (words.said() == name && grey[0].contains(words.middle())) {
                ++named;
                EXPECT_TRUE(words.bold);
                EXPECT_TRUE(grey[0].contains(words.box.boundingRect()));
            }
        EXPECT_EQ(named, 1) << "this tile's name in its own box";
        for (const Painted::Line& line : recorder.lines)
            if (line.closed && std::abs(line.box().width() - grey[0].width()) < 1e-9 &&
                std::abs(line.box().height() - grey[0].height()) < 1e-9)
                ++boxes;
        EXPECT_EQ(boxes, static_cast<int>(assembly.tiles.size()));
    }
}

TEST(PaintHeader, NamesOnItsMapDoNotRunIntoOneAnother) {
    for (const int side : {4, 8, 9, 10, 11, 12, 13}) {
        const PrintLayout layout = spread("A4", 1.0, side);
        const Assembly& assembly = layout.assemblies[0];
        std::set<std::string> names;
        for (const Tile& tile : assembly.tiles) names.insert(tile_name(tile, assembly.rows));
        names.erase(tile_name(layout.pages[0].tile, assembly.rows));  // written whatever its size
        std::vector<QRectF> boxes;
        for (const Painted::Words& words : painted_page(layout, 0).words)
            if (names.contains(words.said())) boxes.push_back(words.box.boundingRect());
        if (side < 9) {
            EXPECT_EQ(boxes.size(), names.size()) << side;
        }
        for (std::size_t i = 0; i < boxes.size(); ++i)
            for (std::size_t k = 0; k < i; ++k) EXPECT_FALSE(boxes[i].intersects(boxes[k])) << side;
    }
}

}  // namespace
}  // namespace tearline::paper
