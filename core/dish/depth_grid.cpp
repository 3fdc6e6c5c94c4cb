#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

#include "core/dish/sounded_dish.h"

namespace tearline::dish {

DepthGrid sampled(const SoundedDish& dish, double margin) {
    constexpr double cells = 160.0;
    DepthGrid field;
    Vec2 high = dish.ground().front().outer.front();
    field.low = high;
    for (const Region2& region : dish.ground())
        for (const Vec2& p : region.outer) {
            field.low = field.low.cwiseMin(p);
            high = high.cwiseMax(p);
        }
    field.step = (high - field.low).maxCoeff() / cells;
    // A rim of zeros all round, so that every curve closes.
    const Vec2 rim = Vec2::Constant(margin + 2.0 * field.step);
    field.low -= rim;
    high += rim;
    field.columns = static_cast<int>(std::ceil((high.x() - field.low.x()) / field.step)) + 1;
    field.rows = static_cast<int>(std::ceil((high.y() - field.low.y()) / field.step)) + 1;
    field.value.resize(static_cast<std::size_t>(field.columns) *
                       static_cast<std::size_t>(field.rows));
    for (int r = 0; r < field.rows; ++r)
        for (int c = 0; c < field.columns; ++c) field.at(c, r) = dish.depth(field.place(c, r));
    return field;
}

namespace {

/// Lines of the grid, numbered: those that run along a row first.
class Crossings {
public:
    Crossings(const DepthGrid& field, double level) : field_(field), level_(level) {}

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
    const DepthGrid& field_;
    double level_;
};

}  // namespace

std::vector<Loop2> contours(const DepthGrid& field, double level) {
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

DepthGrid still_to_grind(const DepthGrid& dish, double ratio) {
    DepthGrid need = dish;
    const double fall = dish.step / ratio;  // of the gentlest wall from crossing to crossing
    // Heights fall outward from where it is deep: the same as arrival times that grow.
    const auto relax = [&](int c, int r) {
        const double a = std::max(c > 0 ? need.at(c - 1, r) : 0.0,
                                  c + 1 < need.columns ? need.at(c + 1, r) : 0.0);
        const double b =
            std::max(r > 0 ? need.at(c, r - 1) : 0.0, r + 1 < need.rows ? need.at(c, r + 1) : 0.0);
        const double differ = std::abs(a - b);
        const double from_neighbours =
            differ >= fall ? std::max(a, b) - fall
                           : 0.5 * (a + b - std::sqrt(2.0 * fall * fall - differ * differ));
        if (from_neighbours > need.at(c, r)) need.at(c, r) = from_neighbours;
    };
    constexpr int rounds = 4;
    for (int round = 0; round < rounds; ++round)
        for (int way = 0; way < 4; ++way)
            for (int i = 0; i < need.rows; ++i)
                for (int j = 0; j < need.columns; ++j)
                    relax(way % 2 == 0 ? j : need.columns - 1 - j,
                          way / 2 == 0 ? i : need.rows - 1 - i);
    for (std::size_t i = 0; i < need.value.size(); ++i) need.value[i] -= dish.value[i];
    return need;
}

}  // namespace tearline::dish
