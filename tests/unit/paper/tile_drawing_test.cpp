#include "core/paper/tile_drawing.h"

#include <gtest/gtest.h>

#include <random>

#include "tests/unit/paper/shapes.h"

namespace tearline::paper {
namespace {

Box window_of(const Tile& tile, const Vec2& window, double overlap) {
    const Vec2 low(tile.column * (window.x() - overlap), tile.row * (window.y() - overlap));
    return {low, low + window};
}

/// Every point of the ink is in some window, every window has ink: what tiling promises.
void expect_covered(const Drawing& drawing, const Vec2& window, double overlap) {
    const Tiling tiling = tile_drawing(drawing, window, overlap);
    const Drawing on_grid = drawing::placed(drawing, tiling.turn, tiling.shift);
    for (const Vec2& point : ink_points(on_grid, 0.7)) {
        bool shown = false;
        for (const Tile& tile : tiling.tiles) {
            const Box box = window_of(tile, window, overlap);
            shown = shown ||
                    ((point - box.low).minCoeff() >= 0.0 && (box.high - point).minCoeff() >= 0.0);
        }
        ASSERT_TRUE(shown) << point.transpose();
    }
    for (const Tile& tile : tiling.tiles)
        EXPECT_TRUE(has_ink(on_grid, window_of(tile, window, overlap)));
}

TEST(TileDrawing, TurnsALongStripAcrossTheFewestPages) {
    // By hand: on windows of 190 x 250 mm with 12 mm overlap two pages one above the other show
    // 250 + 238 = 488 mm, two side by side 190 + 178 = 368 mm. A strip of 480 x 60 mm that may lie
    // on its side takes two; one whose top stays on top takes three.
    Drawing strip = outlined("a", rectangle(480, 60));
    const Tiling turned = tile_drawing(strip, {190, 250}, 12);
    EXPECT_EQ(turned.tiles.size(), 2u);
    EXPECT_EQ(turned.turn, 90.0);
    strip.up_on_top = true;
    EXPECT_EQ(tile_drawing(strip, {190, 250}, 12).tiles.size(), 3u);
}

TEST(TileDrawing, LeavesOutPagesWithoutInk) {
    // A ring of 400 mm radius round a pitch of 178 x 238 mm has pages inside that show nothing.
    const Tiling tiling = tile_drawing(outlined("a", circle(400)), {190, 250}, 12);
    EXPECT_LT(static_cast<int>(tiling.tiles.size()), tiling.columns * tiling.rows);
    expect_covered(outlined("a", circle(400)), {190, 250}, 12);
}

TEST(TileDrawing, ShowsAllInkOfRandomOutlines) {
    std::mt19937 random(20261125);
    RecordProperty("start_value", 20261125);
    std::uniform_real_distribution<double> radius(80.0, 420.0);
    for (int run = 0; run < 8; ++run) {
        Loop2 loop = circle(1.0, {0, 0}, 24);
        for (Vec2& point : loop) point *= radius(random);
        SCOPED_TRACE(run);
        expect_covered(outlined("a", loop), {188, 245}, 12);
    }
}

TEST(TileDrawing, NamesTilesAsOneReads) {
    EXPECT_EQ(tile_name({0, 2}, 3), "A1");
    EXPECT_EQ(tile_name({1, 0}, 3), "B3");
    EXPECT_EQ(tile_name({26, 0}, 1), "AA1");
}

TEST(TileDrawing, ListsTilesFromTheTopLeft) {
    const Tiling tiling = tile_drawing(outlined("a", rectangle(350, 450)), {190, 250}, 12);
    ASSERT_EQ(tiling.tiles.size(), 4u);
    EXPECT_EQ(tile_name(tiling.tiles.front(), tiling.rows), "A1");
    EXPECT_EQ(tile_name(tiling.tiles.back(), tiling.rows), "B2");
}

}  // namespace
}  // namespace tearline::paper
