#pragma once
#include <optional>
#include <vector>

#include "core/paper/ink.h"
#include "core/paper/tile_drawing.h"

namespace tearline::paper {

/// A second drawing on the grid of pages that a first is spread over.
struct JoinedTiles {
    double turn = 0.0;        ///< [deg] the second drawing is turned by
    Vec2 shift{0, 0};         ///< [mm] then moved by, on the first one's grid
    std::vector<Tile> tiles;  ///< of both; counted from the first one's corner, so some below zero
};

/// The place for a second drawing beside a first, clear of it, where both need the fewest pages:
/// what one leaves of its outermost pages the other may fill.
///
/// @param first    placed on its grid
/// @param tiles    that show it
/// @param window   [mm] what one page shows
/// @param overlap  [mm] that two neighbours both show
/// @param most     nothing where it takes more pages than this
[[nodiscard]] std::optional<JoinedTiles> join_tiles(const Drawing& first,
                                                    const std::vector<Tile>& tiles,
                                                    const Drawing& second, const Vec2& window,
                                                    double overlap, std::size_t most);

}  // namespace tearline::paper
