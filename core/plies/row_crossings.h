#pragma once
#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

#include "core/base/outline.h"

namespace tearline::plies {

/// Where level rows of places cross the edge of a region: for each row the x of every crossing
/// [mm], ascending, the inside between the first and the second, the third and the fourth.
class RowCrossings {
public:
    /// @param first,last  numbers of the rows
    /// @param height      of a row by its number [mm], rising evenly
    template <class Height>
    RowCrossings(const Region2& region, long first, long last, Height height)
        : first_(first), rows_(static_cast<std::size_t>(std::max(0L, last - first + 1))) {
        if (rows_.empty()) return;
        const double low = height(first), rise = height(first + 1) - low;
        const auto add = [&](const Loop2& loop) {
            for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
                const Vec2 &a = loop[i], &b = loop[j];
                const auto [bottom, top] = std::minmax(a.y(), b.y());
                // A row more at both ends, for what rounding does to their numbers.
                const double from = std::floor((bottom - low) / rise) - 1.0;
                const double to = std::ceil((top - low) / rise) + 1.0;
                const long count = last - first;
                const long end = static_cast<long>(std::min(to, static_cast<double>(count)));
                for (long row = static_cast<long>(std::max(from, 0.0)); row <= end; ++row) {
                    const double y = height(first + row);
                    if ((a.y() > y) != (b.y() > y))
                        rows_[static_cast<std::size_t>(row)].push_back(
                            a.x() + (y - a.y()) * (b.x() - a.x()) / (b.y() - a.y()));
                }
            }
        };
        add(region.outer);
        for (const Loop2& hole : region.holes) add(hole);
        for (auto& row : rows_) std::sort(row.begin(), row.end());
    }

    [[nodiscard]] std::span<const double> of(long row) const {
        return rows_[static_cast<std::size_t>(row - first_)];
    }

private:
    long first_;
    std::vector<std::vector<double>> rows_;
};

}  // namespace tearline::plies
