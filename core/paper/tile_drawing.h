#pragma once
#include <set>
#include <vector>

#include "core/paper/ink.h"

namespace tearline::paper {

/// A place in a grid of pages, counted from the lower left.
struct Tile {
    int column = 0, row = 0;
    auto operator<=>(const Tile&) const = default;
};

/// How a drawing that is larger than one window is spread over pages.
struct Tiling {
    double turn = 0.0;        ///< [deg] the drawing is turned by
    Vec2 shift{0, 0};         ///< [mm] then moved by: tile (0, 0) has its lower left corner at 0, 0
    std::vector<Tile> tiles;  ///< row by row from the top, as one reads; each shows some ink
    int columns = 0, rows = 0;
};

/// The fewest pages found over turns and places of the grid; every bit of ink is on a page, every
/// page has ink, and pages hang together by whole edges where that is possible.
///
/// @param window  [mm] what one page shows
/// @param overlap [mm] that two neighbours both show
[[nodiscard]] Tiling tile_drawing(const Drawing& drawing, const Vec2& window, double overlap);

/// The tiles of a grid with its corner at 0, 0 that show all points, those that are there among
/// them.
[[nodiscard]] std::set<Tile> tiles_for(const std::vector<Vec2>& points, const Vec2& window,
                                       double overlap, const std::vector<Tile>& there);

/// Whether all tiles can be glued to one sheet: they touch by whole edges.
[[nodiscard]] bool hang_together(const std::set<Tile>& tiles);

/// Tiles row by row from the top, as one reads.
void sort_as_read(std::vector<Tile>& tiles);

/// "B2": column letter from the left, row number from the top.
[[nodiscard]] std::string tile_name(const Tile& tile, int rows);

}  // namespace tearline::paper
