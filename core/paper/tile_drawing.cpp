#include "core/paper/tile_drawing.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>

namespace tearline::paper {

namespace {

// [mm] ink stays this far inside the outermost windows: half a line and a bit.
constexpr double inset = 1.0;
// [mm] between the points that stand for the ink while searching; the last word has has_ink.
constexpr double search_spacing = 3.0;
constexpr int places_each_way = 10;  // of the grid, over one pitch

struct Axis {
    double origin, pitch, overlap;

    [[nodiscard]] int cell(double at) const {
        return static_cast<int>(std::floor((at - origin) / pitch));
    }
    /// Whether the cell before shows this place too.
    [[nodiscard]] bool shared(double at, int cell) const {
        return at - origin - cell * pitch < overlap - inset;
    }
};

/// The tiles that show all points: those that alone show one, then what is still missing.
std::set<Tile> needed_tiles(const std::vector<Vec2>& ink, const Axis& x, const Axis& y,
                            std::set<Tile> needed = {}) {
    std::set<std::pair<Tile, int>>
        open;  // own tile, 1: left shows it too, 2: the one below, 3: both
    for (const Vec2& point : ink) {
        const Tile own{x.cell(point.x()), y.cell(point.y())};
        const int shared =
            (x.shared(point.x(), own.column) ? 1 : 0) + (y.shared(point.y(), own.row) ? 2 : 0);
        if (shared == 0)
            needed.insert(own);
        else
            open.insert({own, shared});
    }
    // Of the tiles that show a point the one that shows most of the others that are left.
    const auto showing = [](const std::pair<Tile, int>& at) {
        const auto& [own, shared] = at;
        std::vector<Tile> tiles{own};
        if ((shared & 1) != 0) tiles.push_back({own.column - 1, own.row});
        if ((shared & 2) != 0) tiles.push_back({own.column, own.row - 1});
        if (shared == 3) tiles.push_back({own.column - 1, own.row - 1});
        return tiles;
    };
    std::map<Tile, int> shows;
    std::vector<std::pair<Tile, int>> left;
    for (const auto& at : open) {
        const std::vector<Tile> tiles = showing(at);
        if (std::any_of(tiles.begin(), tiles.end(),
                        [&](const Tile& tile) { return needed.contains(tile); }))
            continue;
        left.push_back(at);
        for (const Tile& tile : tiles) ++shows[tile];
    }
    for (const auto& at : left) {
        const std::vector<Tile> tiles = showing(at);
        if (std::none_of(tiles.begin(), tiles.end(),
                         [&](const Tile& tile) { return needed.contains(tile); }))
            needed.insert(*std::max_element(
                tiles.begin(), tiles.end(),
                [&](const Tile& a, const Tile& b) { return shows.at(a) < shows.at(b); }));
    }
    return needed;
}

/// Groups of tiles that touch by whole edges.
int groups(const std::set<Tile>& tiles) {
    std::set<Tile> left = tiles;
    int count = 0;
    while (!left.empty()) {
        ++count;
        std::vector<Tile> front{*left.begin()};
        left.erase(left.begin());
        while (!front.empty()) {
            const Tile at = front.back();
            front.pop_back();
            for (const Tile& next : {Tile{at.column + 1, at.row}, Tile{at.column - 1, at.row},
                                     Tile{at.column, at.row + 1}, Tile{at.column, at.row - 1}})
                if (left.erase(next) > 0) front.push_back(next);
        }
    }
    return count;
}

struct Candidate {
    double turn = 0.0;
    Vec2 origin{0, 0};  ///< lower left corner of tile (0, 0) in the turned drawing
    std::size_t cost = 0;
    double height = 0.0;  ///< [mm] of the turned drawing: of two equal answers the flatter one

    [[nodiscard]] bool better_than(const Candidate& other) const {
        return cost != other.cost ? cost < other.cost : height < other.height;
    }
};

struct Grid {
    Vec2 pitch;
    double overlap;

    [[nodiscard]] std::set<Tile> tiles(const std::vector<Vec2>& ink, const Vec2& origin) const {
        return needed_tiles(ink, {origin.x(), pitch.x(), overlap},
                            {origin.y(), pitch.y(), overlap});
    }
};

/// The best place of the grid for one turn.
Candidate best_place(const Drawing& drawing, double turn, const Grid& grid) {
    const Drawing turned = placed(drawing, turn, {0, 0});
    const std::vector<Vec2> ink = thin_ink(turned, search_spacing);
    const Box box = bounds(turned);
    const Vec2 low = box.low - Vec2(inset, inset);
    std::optional<Candidate> best;
    for (int i = 0; i < places_each_way; ++i)
        for (int j = 0; j < places_each_way; ++j) {
            const Vec2 origin = low - Vec2(i * (grid.pitch.x() - grid.overlap) / places_each_way,
                                           j * (grid.pitch.y() - grid.overlap) / places_each_way);
            const std::set<Tile> tiles = grid.tiles(ink, origin);
            // A group apart costs as much as a page: it cannot be glued to the others.
            const std::size_t cost = tiles.size() + static_cast<std::size_t>(groups(tiles)) - 1;
            if (!best || cost < best->cost) best = Candidate{turn, origin, cost, box.size().y()};
        }
    return *best;
}

}  // namespace

Tiling tile_drawing(const Drawing& drawing, const Vec2& window, double overlap) {
    const Grid grid{window - Vec2(overlap, overlap), overlap};
    std::optional<Candidate> best;
    for (const double turn : turns_of(drawing)) {
        const Candidate found = best_place(drawing, turn, grid);
        if (!best || found.better_than(*best)) best = found;
    }
    const Drawing turned = placed(drawing, best->turn, -best->origin);
    std::set<Tile> tiles = grid.tiles(ink_points(turned, inset / 2.0), {0, 0});
    Tile low = *tiles.begin(), high = *tiles.begin();
    for (const Tile& tile : tiles) {
        low = {std::min(low.column, tile.column), std::min(low.row, tile.row)};
        high = {std::max(high.column, tile.column), std::max(high.row, tile.row)};
    }
    Tiling out;
    out.turn = best->turn;
    out.shift = -best->origin - Vec2(low.column * grid.pitch.x(), low.row * grid.pitch.y());
    out.columns = high.column - low.column + 1;
    out.rows = high.row - low.row + 1;
    for (const Tile& tile : tiles)
        out.tiles.push_back({tile.column - low.column, tile.row - low.row});
    sort_as_read(out.tiles);
    return out;
}

std::set<Tile> tiles_for(const std::vector<Vec2>& points, const Vec2& window, double overlap,
                         const std::vector<Tile>& there) {
    const Vec2 pitch = window - Vec2(overlap, overlap);
    return needed_tiles(points, {0.0, pitch.x(), overlap}, {0.0, pitch.y(), overlap},
                        {there.begin(), there.end()});
}

bool hang_together(const std::set<Tile>& tiles) {
    return groups(tiles) == 1;
}

void sort_as_read(std::vector<Tile>& tiles) {
    std::sort(tiles.begin(), tiles.end(), [](const Tile& a, const Tile& b) {
        return a.row != b.row ? a.row > b.row : a.column < b.column;
    });
}

std::string tile_name(const Tile& tile, int rows) {
    std::string letters;
    for (int n = tile.column; n >= 0; n = n / 26 - 1)
        letters.insert(letters.begin(), static_cast<char>('A' + n % 26));
    return letters + std::to_string(rows - tile.row);
}

}  // namespace tearline::paper
