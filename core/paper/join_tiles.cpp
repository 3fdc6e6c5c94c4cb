#include "core/paper/join_tiles.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/paper/occupancy.h"

namespace tearline::paper {

namespace {

constexpr int place_step = 8;          // [cells]
constexpr double shift_spacing = 5.0;  // [mm] of the points that stand for the ink
constexpr double exact_spacing = 0.5;  // [mm] the last word
constexpr int grid_side = 64;          // [tiles] more than any print has along one side

/// Counts pages that ink needs beyond those that are there; quick, for a search.
class PageCount {
public:
    PageCount(const std::vector<Tile>& there, const Vec2& pitch, double overlap)
        : there_(there), pitch_(pitch), overlap_(overlap), stamp_(grid_side * grid_side, 0) {}

    /// @param most  counting stops where it is passed
    std::size_t more(const std::vector<Vec2>& ink, const Vec2& shift, std::size_t most) {
        ++now_;
        for (const Tile& tile : there_) mark(tile);
        std::size_t count = 0;
        // First the pages that alone show something, then what none of those shows.
        for (const bool shared : {false, true})
            for (const Vec2& point : ink) {
                const Vec2 at = point + shift;
                const Tile own{static_cast<int>(std::floor(at.x() / pitch_.x())),
                               static_cast<int>(std::floor(at.y() / pitch_.y()))};
                const bool left = at.x() - own.column * pitch_.x() < overlap_;
                const bool below = at.y() - own.row * pitch_.y() < overlap_;
                if ((left || below) != shared || marked(own)) continue;
                if ((left && marked({own.column - 1, own.row})) ||
                    (below && marked({own.column, own.row - 1})))
                    continue;
                mark(own);
                if (++count > most) return count;
            }
        return count;
    }

private:
    static std::size_t index(const Tile& tile) {
        const int x = std::clamp(tile.column + grid_side / 2, 0, grid_side - 1);
        const int y = std::clamp(tile.row + grid_side / 2, 0, grid_side - 1);
        return static_cast<std::size_t>(y * grid_side + x);
    }
    void mark(const Tile& tile) { stamp_[index(tile)] = now_; }
    [[nodiscard]] bool marked(const Tile& tile) const { return stamp_[index(tile)] == now_; }

    const std::vector<Tile>& there_;
    Vec2 pitch_;
    double overlap_;
    std::vector<unsigned> stamp_;
    unsigned now_ = 0;
};

}  // namespace

std::optional<JoinedTiles> join_tiles(const Drawing& first, const std::vector<Tile>& tiles,
                                      const Drawing& second, const Vec2& window, double overlap,
                                      std::size_t most) {
    if (most < tiles.size()) return std::nullopt;
    const Vec2 pitch = window - Vec2(overlap, overlap);
    const Silhouette there = silhouette(first);
    PageCount pages(tiles, pitch, overlap);
    std::optional<JoinedTiles> best;
    std::size_t left = most - tiles.size();  // pages that the second may add
    for (const double turn : turns_of(second)) {
        const Drawing turned = placed(second, turn, {0, 0});
        const Silhouette own = silhouette(turned);
        const std::vector<Vec2> ink = thin_ink(turned, shift_spacing);
        const int width = own.cells.width(), height = own.cells.height();
        Occupancy room(there.cells.width() + 2 * width, there.cells.height() + 2 * height);
        room.take(there.cells, {width, height});
        for (int y = 0; y + height <= room.height(); y += place_step)
            for (int x = 0; x + width <= room.width(); x += place_step) {
                const Vec2 corner = there.low + packing_cell * Vec2(x - width, y - height);
                const Vec2 shift = corner - own.low;
                if (pages.more(ink, shift, left) > left || room.collides(own.cells, {x, y}))
                    continue;
                const std::set<Tile> exact = tiles_for(
                    ink_points(placed(second, turn, shift), exact_spacing), window, overlap, tiles);
                if (exact.size() > tiles.size() + left || !hang_together(exact)) continue;
                best = JoinedTiles{turn, shift, {exact.begin(), exact.end()}};
                if (exact.size() == tiles.size()) return best;
                left = exact.size() - tiles.size() - 1;  // only fewer is better
            }
    }
    return best;
}

}  // namespace tearline::paper
