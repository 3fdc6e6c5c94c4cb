#include "core/scan/data_holes.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>

#include "core/plane/nearest_on_line.h"

namespace tearline::scan {

namespace {

/// [-] points that have to be missing.
constexpr double missing = 16.0;

/// Points by squares that hold four of them on average.
class Squares {
public:
    Squares(std::span<const FieldPoint> points, double side) : side_(side) {
        for (const FieldPoint& point : points) held_[of(point.uv)].push_back(point.uv);
    }
    using Square = std::pair<int, int>;
    [[nodiscard]] Square of(const Vec2& uv) const {
        return {static_cast<int>(std::floor(uv.x() / side_)),
                static_cast<int>(std::floor(uv.y() / side_))};
    }
    template <class Do>
    void near(const Vec2& uv, int wide, const Do& with) const {
        const auto [column, row] = of(uv);
        for (int c = column - wide; c <= column + wide; ++c) {
            // Squares of a column follow one another.
            for (auto at = held_.lower_bound({c, row - wide});
                 at != held_.end() && at->first <= Square{c, row + wide}; ++at)
                with(at->second);
        }
    }
    /// The radius of a disc about a place that ought to hold so many points that none is no chance.
    [[nodiscard]] double radius_at(const Vec2& uv) const {
        constexpr int wide = 4;
        std::size_t points = 0, squares = 0;
        near(uv, wide, [&](const std::vector<Vec2>& held) {
            points += held.size();
            ++squares;
        });
        if (points == 0) return 0.0;
        const double area = static_cast<double>(squares) * side_ * side_;
        return std::sqrt(missing * area / (std::numbers::pi * static_cast<double>(points)));
    }
    [[nodiscard]] bool empty(const Vec2& uv, double radius) const {
        bool none = true;
        near(uv, static_cast<int>(std::ceil(radius / side_)), [&](const std::vector<Vec2>& held) {
            none = none && std::none_of(held.begin(), held.end(), [&](const Vec2& p) {
                       return (p - uv).squaredNorm() < radius * radius;
                   });
        });
        return none;
    }

private:
    double side_;
    std::map<Square, std::vector<Vec2>> held_;
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
    const Squares squares(points, side);
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
            // Where the disc reaches past the skin that is asked about, nothing is missing.
            if (!contains(outer, uv) || plane::distance_to_loop(outer, uv) < wide) continue;
            if (!bridged.outer.empty() &&
                (contains(bridged, uv) || plane::distance_to_loop(bridged.outer, uv) < wide))
                continue;
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
