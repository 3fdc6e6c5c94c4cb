#include "core/paper/pack_pages.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "core/paper/occupancy.h"
#include "tests/unit/paper/shapes.h"

namespace tearline::paper {
namespace {

std::size_t page_count(const std::vector<Assembly>& assemblies) {
    std::size_t count = 0;
    for (const Assembly& assembly : assemblies) count += assembly.tiles.size();
    return count;
}

Paper paper(const char* name) {
    return read_paper(name).value();
}

/// No two drawings of an assembly come nearer to each other than the packing promises.
void expect_apart(const Assembly& assembly) {
    for (std::size_t i = 0; i < assembly.drawings.size(); ++i)
        for (std::size_t j = i + 1; j < assembly.drawings.size(); ++j)
            for (const Vec2& a : ink_points(assembly.drawings[i], 3.0))
                for (const Vec2& b : ink_points(assembly.drawings[j], 3.0))
                    ASSERT_GE((a - b).norm(), packing_gap - packing_cell)
                        << assembly.drawings[i].name << " " << assembly.drawings[j].name;
}

TEST(PackPages, PutsFourSmallPiecesOnOnePage) {
    // By hand: four 80 x 80 mm squares with gaps are 168 x 168 mm; the A4 window is 189 x 245 mm.
    const std::vector<Drawing> drawings(4, outlined("a", rectangle(80, 80)));
    const auto assemblies = pack_pages(drawings, paper("A4"), 1.0);
    ASSERT_EQ(assemblies.size(), 1u);
    EXPECT_EQ(assemblies[0].drawings.size(), 4u);
    expect_apart(assemblies[0]);
}

TEST(PackPages, TurnsAPieceThatFitsOnlyLying) {
    // 230 mm is wider than the A4 window of 189 mm and shorter than its 245 mm.
    const auto assemblies = pack_pages({outlined("a", rectangle(230, 100))}, paper("A4"), 1.0);
    EXPECT_EQ(page_count(assemblies), 1u);
}

TEST(PackPages, FillsRoomOnPagesOfALargePiece) {
    // A disc of 150 mm radius takes four pages whose corners hold two small triangles.
    const std::vector<Drawing> drawings = {outlined("disc", circle(150)),
                                           outlined("s", rectangle(30, 30)),
                                           outlined("t", rectangle(30, 30))};
    const auto assemblies = pack_pages(drawings, paper("A4"), 1.0);
    ASSERT_EQ(assemblies.size(), 1u);
    EXPECT_EQ(assemblies[0].drawings.size(), 3u);
    expect_apart(assemblies[0]);
}

/// Every point of the ink is in the window of a page, and every page shows ink.
void expect_shown(const Assembly& assembly) {
    for (const Drawing& drawing : assembly.drawings)
        for (const Vec2& point : ink_points(drawing, 0.7)) {
            const bool shown =
                std::any_of(assembly.tiles.begin(), assembly.tiles.end(), [&](const Tile& tile) {
                    const Box box = assembly.window_of(tile);
                    return (point - box.low).minCoeff() >= 0.0 &&
                           (box.high - point).minCoeff() >= 0.0;
                });
            ASSERT_TRUE(shown) << drawing.name << " " << point.transpose();
        }
    for (const Tile& tile : assembly.tiles) {
        EXPECT_TRUE(tile.column >= 0 && tile.column < assembly.columns);
        EXPECT_TRUE(tile.row >= 0 && tile.row < assembly.rows);
        EXPECT_TRUE(std::any_of(
            assembly.drawings.begin(), assembly.drawings.end(),
            [&](const Drawing& drawing) { return has_ink(drawing, assembly.window_of(tile)); }));
    }
}

TEST(PackPages, PutsTwoLargePiecesOnOneGridWhereThatSavesPages) {
    // By hand: an A4 window is 189 x 245 mm, two by two with 12 mm overlap 366 x 478 mm. A right
    // triangle of 340 x 445 mm leaves the fourth of these pages out; with its other half it is one
    // rectangle of four pages.
    const auto triangle = outlined("a", {{0, 0}, {340, 0}, {0, 445}});
    const auto other = outlined("b", {{340, 445}, {0, 445}, {340, 0}});
    ASSERT_EQ(page_count(pack_pages({triangle}, paper("A4"), 1.0)), 3u);
    ASSERT_EQ(page_count(pack_pages({other}, paper("A4"), 1.0)), 3u);
    const auto assemblies = pack_pages({triangle, other}, paper("A4"), 1.0);
    EXPECT_LT(page_count(assemblies), 6u);
    ASSERT_EQ(assemblies.size(), 1u);
    ASSERT_EQ(assemblies[0].drawings.size(), 2u);
    expect_apart(assemblies[0]);
    expect_shown(assemblies[0]);
}

TEST(PackPages, LeavesLargePiecesApartWhereNothingIsSaved) {
    // By hand: a rectangle of 360 x 470 mm fills its four pages to the edge.
    const auto full = outlined("a", rectangle(360, 470));
    const auto assemblies = pack_pages({full, full}, paper("A4"), 1.0);
    EXPECT_EQ(assemblies.size(), 2u);
    EXPECT_EQ(page_count(assemblies), 8u);
}

TEST(PackPages, ShowsAllOfLargePiecesOfManySizes) {
    std::vector<Drawing> drawings;
    for (const double radius : {100.0, 130.0, 170.0, 210.0, 260.0, 300.0})
        drawings.push_back(outlined(std::to_string(radius), circle(radius)));
    std::size_t apart = 0;
    for (const Drawing& drawing : drawings)
        apart += page_count(pack_pages({drawing}, paper("A4"), 1.0));
    const auto assemblies = pack_pages(drawings, paper("A4"), 1.0);
    EXPECT_LE(page_count(assemblies), apart);
    std::size_t placed_drawings = 0;
    for (const Assembly& assembly : assemblies) {
        placed_drawings += assembly.drawings.size();
        expect_apart(assembly);
        expect_shown(assembly);
    }
    EXPECT_EQ(placed_drawings, drawings.size());
}

TEST(PackPages, KeepsPackedPiecesInOneWindowAndOffGluedEdges) {
    const auto assemblies = pack_pages(
        {outlined("disc", circle(150)), outlined("s", rectangle(30, 30))}, paper("A4"), 1.0);
    const Assembly& assembly = assemblies.at(0);
    const Box box = bounds(assembly.drawings.at(1));
    int windows = 0;
    for (const Tile& tile : assembly.tiles)
        if (has_ink(assembly.drawings[1], assembly.window_of(tile))) ++windows;
    EXPECT_EQ(windows, 1);
    EXPECT_NEAR(box.size().x() * box.size().y(), 900.0, 450.0);  // unchanged but for its turn
}

TEST(PackPages, MakesOnePageOfARollAsLongAsItsInk) {
    const std::vector<Drawing> drawings(3, outlined("a", circle(200)));
    const auto assemblies = pack_pages(drawings, paper("roll 914"), 1.0);
    ASSERT_EQ(page_count(assemblies), 1u);
    // Two discs of 400 mm side by side, the third in the hollow between them: less than 3 x 400.
    EXPECT_LT(assemblies[0].frame.paper.y(), 900.0);
    EXPECT_DOUBLE_EQ(assemblies[0].frame.paper.x(), 914.0);
    expect_apart(assemblies[0]);
}

TEST(PackPages, SpreadsAPieceWiderThanTheRoll) {
    const auto assemblies = pack_pages({outlined("a", circle(400))}, paper("roll 610"), 1.0);
    EXPECT_EQ(page_count(assemblies), 2u);
    EXPECT_LT(assemblies[0].frame.paper.y(), 900.0);
}

TEST(PackPages, PaperIsSmallerForAPrinterThatPrintsShort) {
    // At print scale 1.05 an A4 window shows 189 - 10 mm: a 185 mm disc no longer fits one page.
    const std::vector<Drawing> disc = {outlined("a", circle(90))};
    EXPECT_EQ(page_count(pack_pages(disc, paper("A4"), 1.0)), 1u);
    EXPECT_GT(page_count(pack_pages(disc, paper("A4"), 1.05)), 1u);
}

TEST(Occupancy, FindsTheLowestThenLeftmostPlace) {
    Occupancy page(100, 50), block(10, 4);
    for (int y = 0; y < 4; ++y)
        for (int x = 0; x < 10; ++x) block.take(x, y);
    for (int x = 0; x < 95; ++x) page.take(x, 0);
    const auto place = page.lowest_place(block, 50);
    ASSERT_TRUE(place);
    EXPECT_EQ(place->x, 0);
    EXPECT_EQ(place->y, 1);
    EXPECT_FALSE(page.lowest_place(block, 4));
}

TEST(Occupancy, SeesCollisionsAcrossWords) {
    Occupancy page(200, 1), dot(1, 1);
    dot.take(0, 0);
    page.take(129, 0);
    EXPECT_TRUE(page.collides(dot, {129, 0}));
    EXPECT_FALSE(page.collides(dot, {128, 0}));
    EXPECT_FALSE(page.collides(dot, {130, 0}));
    Occupancy line(100, 1);
    line.take(99, 0);
    EXPECT_TRUE(page.collides(line, {30, 0}));
    EXPECT_FALSE(page.collides(line, {31, 0}));
}

TEST(Silhouette, CoversTheInsideAndHalfTheGap) {
    // By hand: 100 x 60 mm in cells of 2 mm, grown by one cell each side: at least 52 x 32 cells.
    const Silhouette outline = silhouette(outlined("a", rectangle(100, 60)));
    EXPECT_GE(outline.cells.taken(), 52 * 32);
    EXPECT_LE(outline.cells.taken(), 54 * 34);
    EXPECT_EQ(outline.low, Vec2(-2, -2));
}

}  // namespace
}  // namespace tearline::paper
