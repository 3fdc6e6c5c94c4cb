#include "core/hull/weld.h"

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>

namespace tearline::hull {
namespace {

constexpr double cell_in_reaches = 16.0;  // large cells: most points need to look into one only

using Cell = std::array<std::int64_t, 3>;

/// Kept points by the cell of a grid they lie in: an open hash of cells, chains of points.
class Grid {
public:
    Grid(const Vec3& origin, double reach, std::size_t points)
        : origin_(origin),
          cell_(reach * cell_in_reaches),
          reach_(reach),
          slots_(std::bit_ceil(points + 16), -1) {
        mask_ = slots_.size() - 1;
    }

    std::int32_t find_or_keep(const Vec3& p, std::vector<Vec3>& kept) {
        const Vec3 q = (p - origin_) / cell_;
        Cell low, high;
        for (int k = 0; k < 3; ++k) {
            const double slack = reach_ / cell_;
            low[static_cast<std::size_t>(k)] = static_cast<std::int64_t>(std::floor(q[k] - slack));
            high[static_cast<std::size_t>(k)] = static_cast<std::int64_t>(std::floor(q[k] + slack));
        }
        for (std::int64_t x = low[0]; x <= high[0]; ++x) {
            for (std::int64_t y = low[1]; y <= high[1]; ++y) {
                for (std::int64_t z = low[2]; z <= high[2]; ++z) {
                    const std::int32_t found = find({x, y, z}, p, kept);
                    if (found >= 0) return found;
                }
            }
        }
        const auto number = static_cast<std::int32_t>(kept.size());
        kept.push_back(p);
        next_.push_back(-1);
        std::int32_t& first = slots_[slot(cell_of(p), kept)];
        next_.back() = first;
        first = number;
        return number;
    }

private:
    Cell cell_of(const Vec3& p) const {
        const Vec3 q = (p - origin_) / cell_;
        return {static_cast<std::int64_t>(std::floor(q.x())),
                static_cast<std::int64_t>(std::floor(q.y())),
                static_cast<std::int64_t>(std::floor(q.z()))};
    }

    std::size_t slot(const Cell& cell, const std::vector<Vec3>& kept) const {
        std::uint64_t h = 0;
        for (const std::int64_t c : cell) {
            h = (h ^ static_cast<std::uint64_t>(c)) * 0x9E3779B97F4A7C15ull;
            h ^= h >> 29;
        }
        std::size_t i = h & mask_;
        while (slots_[i] >= 0 && cell_of(kept[static_cast<std::size_t>(slots_[i])]) != cell) {
            i = (i + 1) & mask_;
        }
        return i;
    }

    std::int32_t find(const Cell& cell, const Vec3& p, const std::vector<Vec3>& kept) const {
        for (std::int32_t i = slots_[slot(cell, kept)]; i >= 0;
             i = next_[static_cast<std::size_t>(i)]) {
            if ((kept[static_cast<std::size_t>(i)] - p).squaredNorm() <= reach_ * reach_) return i;
        }
        return -1;
    }

    Vec3 origin_;
    double cell_, reach_;
    std::size_t mask_;
    std::vector<std::int32_t> slots_, next_;
};

}  // namespace

Welded weld(const std::vector<Vec3>& points, double reach) {
    Welded result;
    if (points.empty()) return result;
    result.number.reserve(points.size());
    Grid grid(points.front(), reach, points.size());
    for (const Vec3& p : points) result.number.push_back(grid.find_or_keep(p, result.kept));
    return result;
}

}  // namespace tearline::hull
