#include "core/scan/scan_domain.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

#include "core/plane/grid_contours.h"

namespace tearline::scan {

namespace {

/// Squares of a grid, true or not; nothing beyond it is.
class Raster {
public:
    Raster(int side, bool value)
        : side_(side),
          value_(static_cast<std::size_t>(side) * static_cast<std::size_t>(side), value) {}

    [[nodiscard]] int side() const { return side_; }
    [[nodiscard]] bool holds(int column, int row) const {
        return column >= 0 && row >= 0 && column < side_ && row < side_;
    }
    [[nodiscard]] bool at(int column, int row) const {
        return holds(column, row) && value_[index(column, row)] != 0;
    }
    void set(int column, int row, bool value) { value_[index(column, row)] = value; }

    /// Whether any square within `wide` columns and rows is `value`.
    [[nodiscard]] Raster spread(int wide, bool value) const {
        Raster out(side_, !value);
        for (int row = 0; row < side_; ++row)
            for (int column = 0; column < side_; ++column) {
                if (value_[index(column, row)] != value) continue;
                for (int r = std::max(0, row - wide); r <= std::min(side_ - 1, row + wide); ++r)
                    for (int c = std::max(0, column - wide);
                         c <= std::min(side_ - 1, column + wide); ++c)
                        out.value_[out.index(c, r)] = value;
            }
        return out;
    }

    /// The squares of the same value that hang together with one, side by side.
    [[nodiscard]] std::vector<std::pair<int, int>> part_of(int column, int row) const {
        const bool value = at(column, row);
        std::vector<char> seen(value_.size(), 0);
        std::vector<std::pair<int, int>> part{{column, row}};
        seen[index(column, row)] = 1;
        for (std::size_t i = 0; i < part.size(); ++i) {
            const auto [c, r] = part[i];
            for (const auto& [dc, dr] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
                const int nc = c + dc, nr = r + dr;
                if (!holds(nc, nr) || seen[index(nc, nr)] || at(nc, nr) != value) continue;
                seen[index(nc, nr)] = 1;
                part.emplace_back(nc, nr);
            }
        }
        return part;
    }

private:
    [[nodiscard]] std::size_t index(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(side_) +
               static_cast<std::size_t>(column);
    }
    int side_;
    std::vector<char> value_;
};

/// Squares about a middle.
struct Squares {
    Vec2 low;
    double size;
    int side;

    [[nodiscard]] std::pair<int, int> of(const Vec2& uv) const {
        const Vec2 local = (uv - low) / size;
        return {static_cast<int>(std::floor(local.x())), static_cast<int>(std::floor(local.y()))};
    }
    [[nodiscard]] Vec2 middle(int column, int row) const {
        return low + size * Vec2(column + 0.5, row + 0.5);
    }
};

/// Squares of points and of what is bridged, gaps of a few of them closed.
Raster covered_squares(const Squares& squares, std::span<const FieldPoint> points,
                       const Region2& bridged) {
    constexpr int gap = 1;  // squares a side
    Raster covered(squares.side, false);
    for (const FieldPoint& point : points) {
        const auto [column, row] = squares.of(point.uv);
        if (covered.holds(column, row)) covered.set(column, row, true);
    }
    if (!bridged.outer.empty())
        for (int row = 0; row < squares.side; ++row)
            for (int column = 0; column < squares.side; ++column)
                if (contains(bridged, squares.middle(column, row))) covered.set(column, row, true);
    return covered.spread(gap, true).spread(gap, false);
}

/// The covered square nearest to a place.
std::pair<int, int> nearest_covered(const Squares& squares, const Raster& covered,
                                    const Vec2& place) {
    std::pair<int, int> best{-1, -1};
    double nearest = std::numeric_limits<double>::infinity();
    for (int row = 0; row < squares.side; ++row)
        for (int column = 0; column < squares.side; ++column) {
            if (!covered.at(column, row)) continue;
            const double away = (squares.middle(column, row) - place).squaredNorm();
            if (away < nearest) {
                nearest = away;
                best = {column, row};
            }
        }
    return best;
}

/// The outer edge of squares, corners rounded.
Loop2 outer_edge(const Squares& squares, const Raster& filled) {
    plane::GridField field;
    field.step = squares.size;
    field.low = squares.middle(-1, -1);
    field.columns = field.rows = squares.side + 2;
    field.value.assign(static_cast<std::size_t>(field.columns * field.rows), 0.0);
    for (int row = 0; row < squares.side; ++row)
        for (int column = 0; column < squares.side; ++column) {
            int sum = 0;
            for (int r = -1; r <= 1; ++r)
                for (int c = -1; c <= 1; ++c) sum += filled.at(column + c, row + r);
            field.at(column + 1, row + 1) = filled.at(column, row) ? std::max(sum, 1) / 9.0 : 0.0;
        }
    // Under half a square of a straight edge is given up, and no corner of one stands.
    const std::vector<Loop2> loops = plane::contours(field, 0.4);
    const auto largest = std::max_element(
        loops.begin(), loops.end(),
        [](const Loop2& a, const Loop2& b) { return signed_area(a) < signed_area(b); });
    return largest == loops.end() ? Loop2{} : *largest;
}

}  // namespace

Loop2 domain_of(std::span<const FieldPoint> points, const Region2& bridged, const Vec2& middle,
                double reach, double spacing) {
    constexpr double spacings = 2.0;
    constexpr int most_side = 400;
    Squares squares;
    squares.size = std::max(spacings * spacing, 2.0 * reach / most_side);
    squares.side = std::max(4, static_cast<int>(std::ceil(2.0 * reach / squares.size)));
    squares.low = middle - Vec2::Constant(0.5 * squares.size * squares.side);
    const Raster covered = covered_squares(squares, points, bridged);
    const auto start = nearest_covered(squares, covered, middle);
    if (start.first < 0) return {};

    Raster part(squares.side, false);
    for (const auto& [column, row] : covered.part_of(start.first, start.second))
        part.set(column, row, true);
    // From every edge of the square inward: what is reached lies outside, the rest is holes.
    Raster outside(squares.side, false), filled = part;
    for (int i = 0; i < squares.side; ++i)
        for (const auto& [column, row] :
             {std::pair{i, 0}, {i, squares.side - 1}, {0, i}, {squares.side - 1, i}})
            if (!part.at(column, row) && !outside.at(column, row))
                for (const auto& [c, r] : part.part_of(column, row)) outside.set(c, r, true);
    for (int row = 0; row < squares.side; ++row)
        for (int column = 0; column < squares.side; ++column)
            if (!outside.at(column, row)) filled.set(column, row, true);
    return outer_edge(squares, filled);
}

}  // namespace tearline::scan
