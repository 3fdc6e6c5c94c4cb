#include "core/plane/grid_contours.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace tearline::plane {
namespace {

/// Lines of the grid, numbered: those that run along a row first.
class Crossings {
public:
    Crossings(const GridField& field, double level) : field_(field), level_(level) {}

    [[nodiscard]] bool high(int c, int r) const { return field_.at(c, r) >= level_; }

    /// Where the level lies on the line from (c, r) to the right or upward.
    [[nodiscard]] Vec2 point(int line) const {
        const bool upward = line >= field_.columns * field_.rows;
        const int cell = upward ? line - field_.columns * field_.rows : line;
        const int c = cell % field_.columns, r = cell / field_.columns;
        const double a = field_.at(c, r);
        const double b = upward ? field_.at(c, r + 1) : field_.at(c + 1, r);
        return field_.place(c, r) +
               (level_ - a) / (b - a) * field_.step * (upward ? Vec2(0, 1) : Vec2(1, 0));
    }

    [[nodiscard]] int along(int c, int r) const { return r * field_.columns + c; }
    [[nodiscard]] int upward(int c, int r) const {
        return field_.columns * field_.rows + along(c, r);
    }

    /// Adds the pieces of one cell: from line to line, high ground on the left.
    void add(int c, int r, std::map<int, int>& next) const {
        const std::array<bool, 4> corner{high(c, r), high(c + 1, r), high(c + 1, r + 1),
                                         high(c, r + 1)};
        const std::array<int, 4> side{along(c, r), upward(c + 1, r), along(c, r + 1), upward(c, r)};
        // Walking round counter-clockwise, a curve comes in where low ground turns high and leaves
        // where high turns low; two pairs in a saddle keep high corners apart.
        for (int i = 0; i < 4; ++i) {
            if (!(corner[static_cast<std::size_t>(i)] &&
                  !corner[static_cast<std::size_t>((i + 1) % 4)]))
                continue;
            int back = i;
            while (corner[static_cast<std::size_t>(back)]) back = (back + 3) % 4;
            next[side[static_cast<std::size_t>(i)]] = side[static_cast<std::size_t>(back)];
        }
    }

private:
    const GridField& field_;
    double level_;
};

}  // namespace

std::vector<Loop2> contours(const GridField& field, double level) {
    const Crossings crossings(field, level);
    std::map<int, int> next;
    for (int r = 0; r + 1 < field.rows; ++r)
        for (int c = 0; c + 1 < field.columns; ++c) crossings.add(c, r, next);
    std::vector<Loop2> loops;
    while (!next.empty()) {
        Loop2 loop;
        for (auto at = next.begin(); at != next.end();) {
            loop.push_back(crossings.point(at->first));
            const int on = at->second;
            next.erase(at);
            at = next.find(on);
        }
        if (loop.size() > 2) loops.push_back(std::move(loop));
    }
    return loops;
}

std::vector<Region2> regions_of(std::vector<Loop2> loops) {
    std::vector<Region2> regions;
    std::sort(loops.begin(), loops.end(), [](const Loop2& a, const Loop2& b) {
        return std::abs(signed_area(a)) > std::abs(signed_area(b));
    });
    for (const Loop2& loop : loops)
        if (signed_area(loop) > 0.0) regions.push_back({loop, {}});
    for (Loop2& loop : loops) {
        if (signed_area(loop) > 0.0) continue;
        // Into the smallest region round it.
        for (auto region = regions.rbegin(); region != regions.rend(); ++region)
            if (contains(region->outer, loop.front())) {
                region->holes.push_back(std::move(loop));
                break;
            }
    }
    return regions;
}

}  // namespace tearline::plane
