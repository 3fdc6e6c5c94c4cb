#include "core/scan/data_holes.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <numbers>
#include <numeric>
#include <utility>
#include <vector>

#include "core/plane/nearest_on_line.h"

namespace tearline::scan {

namespace {

/// [-] points that have to be missing.
constexpr double missing = 16.0;

/// Points by squares that hold four of them on average.
class PointSquares {
public:
    PointSquares(std::span<const FieldPoint> points, double side) : side_(side) {
        low_ = high_ = points.front().uv;
        for (const FieldPoint& point : points) {
            low_ = low_.cwiseMin(point.uv);
            high_ = high_.cwiseMax(point.uv);
        }
        columns_ = along(high_.x() - low_.x()) + 1;
        rows_ = along(high_.y() - low_.y()) + 1;
        sort(points);
        sum_up();
    }

    /// The radius of a disc about a place that ought to hold so many points that none is no chance.
    [[nodiscard]] double radius_at(const Vec2& uv) const {
        constexpr int wide = 4;
        const Block block = about(uv, wide);
        const double points = in(block, points_), squares = in(block, taken_);
        if (points == 0.0) return 0.0;
        return std::sqrt(missing * squares * side_ * side_ / (std::numbers::pi * points));
    }

    [[nodiscard]] bool empty(const Vec2& uv, double radius) const {
        const Block block = about(uv, static_cast<int>(std::ceil(radius / side_)));
        for (int row = block.row; row < block.last_row; ++row) {
            // Squares of a row follow one another.
            const auto first = held_.begin() + start_[square(block.column, row)];
            const auto last = held_.begin() + start_[square(block.last_column, row)];
            if (std::any_of(first, last, [&](const Vec2& p) {
                    return (p - uv).squaredNorm() < radius * radius;
                }))
                return false;
        }
        return true;
    }

private:
    /// Squares from a first to before a last.
    struct Block {
        int column, row, last_column, last_row;
    };

    [[nodiscard]] int along(double way) const { return static_cast<int>(std::floor(way / side_)); }
    [[nodiscard]] std::size_t square(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
               static_cast<std::size_t>(column);
    }
    [[nodiscard]] Block about(const Vec2& uv, int wide) const {
        const int column = along(uv.x() - low_.x()), row = along(uv.y() - low_.y());
        return {std::clamp(column - wide, 0, columns_), std::clamp(row - wide, 0, rows_),
                std::clamp(column + wide + 1, 0, columns_), std::clamp(row + wide + 1, 0, rows_)};
    }

    /// The points, square for square.
    void sort(std::span<const FieldPoint> points) {
        const auto of = [&](const Vec2& uv) {
            return square(along(uv.x() - low_.x()), along(uv.y() - low_.y()));
        };
        start_.assign(square(0, rows_) + 1, 0);
        for (const FieldPoint& point : points) ++start_[of(point.uv) + 1];
        std::partial_sum(start_.begin(), start_.end(), start_.begin());
        held_.resize(points.size());
        std::vector<std::int32_t> next = start_;
        for (const FieldPoint& point : points)
            held_[static_cast<std::size_t>(next[of(point.uv)]++)] = point.uv;
    }

    /// How many points, and squares with any, lie before each column and row.
    void sum_up() {
        points_.assign(
            (static_cast<std::size_t>(columns_) + 1) * (static_cast<std::size_t>(rows_) + 1), 0);
        taken_ = points_;
        for (int row = 0; row < rows_; ++row)
            for (int column = 0; column < columns_; ++column) {
                const std::int32_t held =
                    start_[square(column, row) + 1] - start_[square(column, row)];
                const auto add = [&](std::vector<std::int32_t>& sums, std::int32_t count) {
                    sums[corner(column + 1, row + 1)] = count + sums[corner(column, row + 1)] +
                                                        sums[corner(column + 1, row)] -
                                                        sums[corner(column, row)];
                };
                add(points_, held);
                add(taken_, held > 0 ? 1 : 0);
            }
    }
    [[nodiscard]] std::size_t corner(int column, int row) const {
        return static_cast<std::size_t>(row) * (static_cast<std::size_t>(columns_) + 1) +
               static_cast<std::size_t>(column);
    }
    [[nodiscard]] double in(const Block& block, const std::vector<std::int32_t>& sums) const {
        return sums[corner(block.last_column, block.last_row)] -
               sums[corner(block.column, block.last_row)] -
               sums[corner(block.last_column, block.row)] + sums[corner(block.column, block.row)];
    }

    double side_;
    Vec2 low_, high_;
    int columns_ = 0, rows_ = 0;
    std::vector<Vec2> held_;
    std::vector<std::int32_t> start_;           ///< of each square among them, and the end
    std::vector<std::int32_t> points_, taken_;  ///< by corners of squares
};

/// Places of a grid that hang together.
std::vector<std::vector<std::pair<int, int>>> parts_of(std::map<std::pair<int, int>, bool> places) {
    std::vector<std::vector<std::pair<int, int>>> parts;
    for (auto& [start, taken] : places) {
        if (std::exchange(taken, true)) continue;
        std::vector<std::pair<int, int>> part{start};
        for (std::size_t i = 0; i < part.size(); ++i) {
            const auto [column, row] = part[i];
            for (const auto& [right, up] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
                const auto next = places.find({column + right, row + up});
                if (next != places.end() && !std::exchange(next->second, true))
                    part.push_back(next->first);
            }
        }
        parts.push_back(std::move(part));
    }
    return parts;
}

}  // namespace

std::vector<DataHole> data_holes(std::span<const FieldPoint> points, const Region2& bridged,
                                 const Loop2& outer) {
    if (outer.size() < 3 || points.empty()) return {};
    Vec2 low = outer.front(), high = low;
    for (const Vec2& p : outer) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    const double side =
        2.0 * std::sqrt(std::max(signed_area(outer), 1.0) / static_cast<double>(points.size()));
    const PointSquares squares(points, side);
    const double step = side / 3.0;
    const auto place = [&](int column, int row) { return Vec2(low + step * Vec2(column, row)); };
    std::map<std::pair<int, int>, bool> empty;
    std::map<std::pair<int, int>, double> radius;
    const Vec2 size = (high - low) / step;
    for (int column = 0; column <= static_cast<int>(size.x()); ++column)
        for (int row = 0; row <= static_cast<int>(size.y()); ++row) {
            const Vec2 uv = place(column, row);
            const double wide = squares.radius_at(uv);
            if (!(wide > 0.0) || !squares.empty(uv, wide)) continue;
            if (!bridged.outer.empty() &&
                (contains(bridged, uv) || plane::distance_to_loop(bridged.outer, uv) < wide))
                continue;
            // Where the disc reaches past the skin that is asked about, nothing is missing.
            if (!contains(outer, uv) || plane::distance_to_loop(outer, uv) < wide) continue;
            empty[{column, row}] = false;
            radius[{column, row}] = wide;
        }
    std::vector<DataHole> holes;
    for (const auto& part : parts_of(std::move(empty))) {
        DataHole hole;
        double wide = 0.0;
        const auto count = static_cast<double>(part.size());
        for (const auto& at : part) {
            hole.middle += place(at.first, at.second) / count;
            wide += radius.at(at) / count;
        }
        // The discs about these places are empty too.
        const double whole = std::sqrt(count / std::numbers::pi) * step + wide;
        hole.area_mm2 = std::numbers::pi * whole * whole;
        holes.push_back(hole);
    }
    std::sort(holes.begin(), holes.end(),
              [](const DataHole& a, const DataHole& b) { return a.area_mm2 > b.area_mm2; });
    return holes;
}

}  // namespace tearline::scan
