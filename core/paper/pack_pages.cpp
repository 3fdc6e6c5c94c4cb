#include "core/paper/pack_pages.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include "core/paper/join_tiles.h"
#include "core/paper/occupancy.h"

namespace tearline::paper {

namespace {

/// A drawing with its silhouette at every turn it may have.
struct Item {
    struct Turned {
        double degrees;
        Silhouette outline;
    };
    std::size_t drawing = 0;
    std::vector<Turned> turns;
    int cells = 0;
};

/// A page or a roll with what is on it.
struct Sheet {
    std::size_t assembly;
    Tile tile;
    Occupancy taken;
    int top = 0;  ///< [cells] highest cell taken
};

struct Place {
    std::size_t turn = 0;
    Cell cell;
};

int cells_along(double length) {
    return static_cast<int>(std::floor(length / packing_cell));
}

Item make_item(const Drawing& drawing, std::size_t index) {
    Item item;
    item.drawing = index;
    for (const double turn : turns_of(drawing))
        item.turns.push_back({turn, silhouette(placed(drawing, turn, {0, 0}))});
    item.cells = item.turns.front().outline.cells.taken();
    return item;
}

bool fits(const Item& item, const Vec2& window) {
    return std::any_of(item.turns.begin(), item.turns.end(), [&](const Item::Turned& turned) {
        return turned.outline.cells.width() <= cells_along(window.x()) &&
               turned.outline.cells.height() <= cells_along(window.y());
    });
}

/// The place whose top is lowest, over all turns.
std::optional<Place> find_place(const Item& item, const Occupancy& taken) {
    std::optional<Place> best;
    int limit = taken.height();
    for (std::size_t k = 0; k < item.turns.size(); ++k) {
        const Occupancy& cells = item.turns[k].outline.cells;
        if (cells.width() > taken.width() || cells.height() > limit) continue;
        if (const auto cell = taken.lowest_place(cells, limit)) {
            best = Place{k, *cell};
            limit = cell->y + cells.height() - 1;  // only a lower top is better
        }
    }
    return best;
}

class Packer {
public:
    Packer(const std::vector<Drawing>& drawings, const Paper& paper, double print_scale)
        : drawings_(drawings), paper_(paper), scale_(print_scale) {
        frame_ = page_frame({paper.width, paper.height}, print_scale);
    }

    std::vector<Assembly> pack() {
        std::vector<Item> small;
        std::vector<std::size_t> large;
        for (std::size_t i = 0; i < drawings_.size(); ++i) {
            Item item = make_item(drawings_[i], i);
            if (fits(item, frame_.window.size()))
                small.push_back(std::move(item));
            else
                large.push_back(i);
        }
        // What must stand first opens the first page; large ones leave room that small ones fill.
        const bool first_is_small = !small.empty() && small.front().drawing == 0;
        if (first_is_small) put(small.front());
        for (const std::size_t index : large) tile(index);
        if (!paper_.roll) join_large();
        for (std::size_t i = first_is_small ? 1 : 0; i < assemblies_.size(); ++i) open_tiles(i);
        if (first_is_small) small.erase(small.begin());
        std::stable_sort(small.begin(), small.end(),
                         [](const Item& a, const Item& b) { return a.cells > b.cells; });
        for (const Item& item : small) put(item);
        if (paper_.roll) trim_rolls();
        return std::move(assemblies_);
    }

private:
    void tile(std::size_t index) {
        Vec2 window = frame_.window.size();
        Tiling tiling = tile_drawing(drawings_[index], window, glue_overlap);
        Assembly assembly;
        assembly.drawings = {placed(drawings_[index], tiling.turn, tiling.shift)};
        assembly.frame = frame_;
        assembly.pitch = window - Vec2(glue_overlap, glue_overlap);
        assembly.tiles = tiling.tiles;
        assembly.columns = tiling.columns;
        assembly.rows = tiling.rows;
        assemblies_.push_back(std::move(assembly));
    }

    /// Large drawings two by two on one grid of pages, where that saves any: the largest with the
    /// next, so that none comes to more than two.
    void join_large() {
        std::vector<std::size_t> order;
        for (std::size_t i = 0; i < assemblies_.size(); ++i)
            if (assemblies_[i].tiles.size() > 1) order.push_back(i);
        std::stable_sort(order.begin(), order.end(), [this](std::size_t a, std::size_t b) {
            return assemblies_[a].tiles.size() > assemblies_[b].tiles.size();
        });
        std::vector<std::size_t> gone;
        for (std::size_t k = 0; k + 1 < order.size(); ++k)
            if (join(assemblies_[order[k]], assemblies_[order[k + 1]])) gone.push_back(order[++k]);
        std::sort(gone.begin(), gone.end());
        for (auto i = gone.rbegin(); i != gone.rend(); ++i)
            assemblies_.erase(assemblies_.begin() + static_cast<std::ptrdiff_t>(*i));
    }

    /// Takes the second assembly's drawing over into the first, where both then need fewer pages.
    bool join(Assembly& assembly, const Assembly& other) const {
        const auto joined = join_tiles(assembly.drawings.front(), assembly.tiles,
                                       other.drawings.front(), frame_.window.size(), glue_overlap,
                                       assembly.tiles.size() + other.tiles.size() - 1);
        if (!joined) return false;
        Tile low = joined->tiles.front(), high = low;
        for (const Tile& tile : joined->tiles) {
            low = {std::min(low.column, tile.column), std::min(low.row, tile.row)};
            high = {std::max(high.column, tile.column), std::max(high.row, tile.row)};
        }
        const Vec2 shift(-low.column * assembly.pitch.x(), -low.row * assembly.pitch.y());
        assembly.drawings = {placed(assembly.drawings.front(), 0.0, shift),
                             placed(other.drawings.front(), joined->turn, joined->shift + shift)};
        assembly.tiles.clear();
        for (const Tile& tile : joined->tiles)
            assembly.tiles.push_back({tile.column - low.column, tile.row - low.row});
        sort_as_read(assembly.tiles);
        assembly.columns = high.column - low.column + 1;
        assembly.rows = high.row - low.row + 1;
        return true;
    }

    /// The room that an assembly's pages still have, glued edges left alone.
    void open_tiles(std::size_t index) {
        const Assembly& assembly = assemblies_[index];
        std::vector<Silhouette> inks;
        for (const Drawing& drawing : assembly.drawings) inks.push_back(silhouette(drawing));
        for (const Tile& tile : assembly.tiles) {
            const Box window = assembly.window_of(tile);
            Sheet sheet{index, tile,
                        Occupancy(cells_along(window.size().x()), cells_along(window.size().y()))};
            for (const Silhouette& ink : inks) take(sheet, ink, window);
            block_glued_edges(sheet, assembly);
            sheets_.push_back(std::move(sheet));
        }
    }

    static void take(Sheet& sheet, const Silhouette& ink, const Box& window) {
        const Vec2 corner = (ink.low - window.low) / packing_cell;
        // The two grids do not line up: a cell of the ink takes every cell that it touches.
        const int dx = static_cast<int>(std::floor(corner.x()));
        const int dy = static_cast<int>(std::floor(corner.y()));
        for (int y = 0; y < ink.cells.height(); ++y)
            for (int x = 0; x < ink.cells.width(); ++x)
                if (ink.cells.at(x, y))
                    for (const Cell& add : {Cell{0, 0}, Cell{1, 0}, Cell{0, 1}, Cell{1, 1}})
                        sheet.taken.take(x + dx + add.x, y + dy + add.y);
    }

    static void block_glued_edges(Sheet& sheet, const Assembly& assembly) {
        const int strip = static_cast<int>(std::ceil(glue_overlap / packing_cell)) + 1;
        const int width = sheet.taken.width(), height = sheet.taken.height();
        const auto near = [&](int dx, int dy) {
            return assembly.has({sheet.tile.column + dx, sheet.tile.row + dy});
        };
        for (int y = 0; y < height; ++y)
            for (int x = 0; x < width; ++x) {
                const int dx = x < strip ? -1 : x >= width - strip ? 1 : 0;
                const int dy = y < strip ? -1 : y >= height - strip ? 1 : 0;
                if ((dx != 0 && near(dx, 0)) || (dy != 0 && near(0, dy)) ||
                    (dx != 0 && dy != 0 && near(dx, dy)))
                    sheet.taken.take(x, y);
            }
    }

    void put(const Item& item) {
        for (Sheet& sheet : sheets_) {
            if (item.cells > sheet.taken.width() * sheet.taken.height()) continue;
            if (const auto place = find_place(item, sheet.taken)) return put(item, sheet, *place);
        }
        Assembly assembly;
        assembly.frame = frame_;
        assembly.pitch = frame_.window.size() - Vec2(glue_overlap, glue_overlap);
        assembly.tiles = {{0, 0}};
        assemblies_.push_back(std::move(assembly));
        const Vec2 window = frame_.window.size();
        sheets_.push_back({assemblies_.size() - 1,
                           {0, 0},
                           Occupancy(cells_along(window.x()), cells_along(window.y()))});
        put(item, sheets_.back(), *find_place(item, sheets_.back().taken));
    }

    void put(const Item& item, Sheet& sheet, const Place& place) {
        const Item::Turned& turned = item.turns[place.turn];
        Assembly& assembly = assemblies_[sheet.assembly];
        const Vec2 corner =
            assembly.window_of(sheet.tile).low + packing_cell * Vec2(place.cell.x, place.cell.y);
        assembly.drawings.push_back(
            placed(drawings_[item.drawing], turned.degrees, corner - turned.outline.low));
        sheet.taken.take(turned.outline.cells, place.cell);
        sheet.top = std::max(sheet.top, place.cell.y + turned.outline.cells.height());
    }

    /// A roll's page ends where its ink does.
    void trim_rolls() {
        for (Assembly& assembly : assemblies_) {
            if (assembly.rows > 1) continue;
            double top = 0.0;
            for (const Drawing& drawing : assembly.drawings)
                top = std::max(top, bounds(drawing).high.y());
            const double height = paper_height_for(top + packing_gap, scale_);
            assembly.frame = page_frame({paper_.width, std::min(height, paper_.height)}, scale_);
        }
    }

    const std::vector<Drawing>& drawings_;
    Paper paper_;
    double scale_;
    PageFrame frame_;
    std::vector<Assembly> assemblies_;
    std::vector<Sheet> sheets_;
};

}  // namespace

std::vector<Assembly> pack_pages(const std::vector<Drawing>& drawings, const Paper& paper,
                                 double print_scale) {
    return Packer(drawings, paper, print_scale).pack();
}

}  // namespace tearline::paper
