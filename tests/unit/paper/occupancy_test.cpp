#include "core/paper/occupancy.h"

#include <gtest/gtest.h>

#include <random>
#include <set>
#include <utility>

namespace tearline::paper {
namespace {

using Cells = std::set<std::pair<int, int>>;

/// A grid with random cells taken, and the same as a set of places.
std::pair<Occupancy, Cells> random_cells(std::mt19937& draw, int width, int height,
                                         unsigned count) {
    Occupancy grid(width, height);
    Cells cells;
    for (unsigned i = 0; i < count; ++i) {
        const int x = static_cast<int>(draw() % static_cast<unsigned>(width));
        const int y = static_cast<int>(draw() % static_cast<unsigned>(height));
        grid.take(x, y);
        cells.emplace(x, y);
    }
    return {grid, cells};
}

bool meet(const Cells& a, const Cells& b, Cell to) {
    for (const auto& [x, y] : b)
        if (a.contains({x + to.x, y + to.y})) return true;
    return false;
}

TEST(Occupancy, TakesAndCountsWhatItIsGiven) {
    // Second route: a set of places. Widths about the 64 cells of a word.
    std::mt19937 draw(20261129);
    for (const int width : {1, 63, 64, 65, 130}) {
        const auto [grid, cells] = random_cells(draw, width, 20, 60);
        EXPECT_EQ(grid.taken(), static_cast<int>(cells.size()));
        for (int y = 0; y < 20; ++y)
            for (int x = 0; x < width; ++x) EXPECT_EQ(grid.at(x, y), cells.contains({x, y}));
    }
}

TEST(Occupancy, TakesNothingOutside) {
    Occupancy grid(10, 10);
    for (const auto& [x, y] : {std::pair{-1, 0}, {0, -1}, {10, 0}, {0, 10}}) grid.take(x, y);
    EXPECT_EQ(grid.taken(), 0);
}

TEST(Occupancy, CollidesWhereTwoCellsAreOne) {
    std::mt19937 draw(20261130);
    for (int round = 0; round < 60; ++round) {
        const auto [there, cells] = random_cells(draw, 140, 30, 250);
        const auto [own, mine] = random_cells(draw, 70, 12, 25);
        for (int i = 0; i < 40; ++i) {
            const Cell to{static_cast<int>(draw() % 71), static_cast<int>(draw() % 19)};
            EXPECT_EQ(there.collides(own, to), meet(cells, mine, to)) << to.x << " " << to.y;
        }
    }
}

TEST(Occupancy, TakesAnotherWhereItIsPut) {
    std::mt19937 draw(5);
    auto [there, cells] = random_cells(draw, 140, 30, 100);
    const auto [own, mine] = random_cells(draw, 70, 12, 40);
    there.take(own, {37, 11});
    for (const auto& [x, y] : mine) cells.emplace(x + 37, y + 11);
    EXPECT_EQ(there.taken(), static_cast<int>(cells.size()));
    for (const auto& [x, y] : cells) EXPECT_TRUE(there.at(x, y));
}

TEST(Occupancy, FindsTheLowestThenLeftmostPlaceThereIs) {
    // Second route: every place tried from below, from the left.
    std::mt19937 draw(9);
    for (int round = 0; round < 30; ++round) {
        const auto [there, cells] = random_cells(draw, 100, 24, 60 + 10 * (draw() % 5));
        const auto [own, mine] = random_cells(draw, 9, 5, 12);
        const int limit = 8 + static_cast<int>(draw() % 17);
        std::optional<std::pair<int, int>> wanted;
        for (int y = 0; y + 5 <= std::min(24, limit) && !wanted; ++y)
            for (int x = 0; x + 9 <= 100 && !wanted; ++x)
                if (!meet(cells, mine, {x, y})) wanted = {x, y};
        const auto found = there.lowest_place(own, limit);
        ASSERT_EQ(found.has_value(), wanted.has_value());
        if (!found) continue;
        EXPECT_EQ(found->x, wanted->first);
        EXPECT_EQ(found->y, wanted->second);
    }
}

TEST(Occupancy, GrowsBySoManyCellsAllRound) {
    // By hand: one cell grown by 2 is a square of 5 x 5 about it, on a grid larger by 2 all round.
    Occupancy one(7, 3);
    one.take(4, 1);
    const Occupancy grown = one.grown(2);
    EXPECT_EQ(grown.width(), 11);
    EXPECT_EQ(grown.height(), 7);
    EXPECT_EQ(grown.taken(), 25);
    for (int y = 1; y <= 5; ++y)
        for (int x = 4; x <= 8; ++x) EXPECT_TRUE(grown.at(x, y)) << x << " " << y;
}

}  // namespace
}  // namespace tearline::paper
