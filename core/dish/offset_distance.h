#pragma once
#include <array>
#include <optional>
#include <utility>
#include <vector>

#include "core/dish/offset_sweep.h"

namespace tearline::dish {

/// Distance outside the damage outline at any place of the chart, between the swept rays.
class OffsetDistance {
public:
    explicit OffsetDistance(const OffsetSweep& sweep);  // NOLINT: makes one of each of several

    /// Geodesic distance outside the outline [mm]; 0 inside it, the sweep's farthest where no ray
    /// has come.
    [[nodiscard]] double at(const Vec2& chart_point) const;

    /// The same where rays have come or the point is inside; nothing elsewhere.
    [[nodiscard]] std::optional<double> reached(const Vec2& chart_point) const;

private:
    /// Half of a piece of the strip between two rays and two stations.
    struct Cell {
        std::array<Vec2, 3> corner;
        std::array<double, 3> distance;  ///< [mm] at the corners
    };
    enum class Side : unsigned char { outside, inside, mixed };

    /// A place on a ray, and how far out it lies [mm].
    using Stop = std::pair<Vec2, double>;

    void add_strip(const std::vector<Stop>& on_a, const std::vector<Stop>& on_b);
    void add_cell(const Cell& cell);
    void lay_buckets();
    void sort_sides();
    [[nodiscard]] std::size_t bucket_of(const Vec2& p) const;
    [[nodiscard]] bool inside(const Vec2& p, std::size_t bucket) const;
    [[nodiscard]] std::optional<double> beside_cells(const Vec2& p, double slack) const;

    Loop2 outline_;
    double farthest_ = 0.0;
    std::vector<Cell> cells_;
    Vec2 low_{0, 0}, high_{0, 0};
    double width_ = 1.0;  ///< [mm] of a bucket
    int columns_ = 1, rows_ = 1;
    std::vector<std::int32_t> first_, member_;  ///< cells by bucket
    std::vector<Side> side_;                    ///< of the outline, by bucket
};

}  // namespace tearline::dish
