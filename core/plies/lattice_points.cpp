#include "core/plies/lattice_points.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/plane/box.h"
#include "core/plane/segment.h"
#include "core/plies/row_crossings.h"

namespace tearline::plies {
namespace {

/// Lattices go down to this power of a half of the coarsest length.
constexpr int finest = 3;
/// A lattice point nearer to a kept edge than this part of the edge length is left out.
constexpr double clearance = 0.6;

/// Kept edges by the cells they come near to.
class NearEdges {
public:
    NearEdges(const plane::Skeleton& skeleton, const SizingField& sizes)
        : skeleton_(skeleton), cell_(sizes.coarsest()) {
        const auto [low, high] = plane::box_round(skeleton.points);
        low_ = low - Vec2::Constant(cell_);
        columns_ = static_cast<int>((high.x() - low_.x()) / cell_) + 2;
        rows_ = static_cast<int>((high.y() - low_.y()) / cell_) + 2;
        edges_.resize(static_cast<std::size_t>(columns_) * rows_);
        for (std::size_t e = 0; e < skeleton.edges.size(); ++e) enter(e);
    }

    [[nodiscard]] bool crowded(const Vec2& p, double distance) const {
        const Vec2 q = (p - low_) / cell_;
        const int c = std::clamp(static_cast<int>(q.x()), 0, columns_ - 1);
        const int r = std::clamp(static_cast<int>(q.y()), 0, rows_ - 1);
        for (const std::size_t e : edges_[static_cast<std::size_t>(r) * columns_ + c]) {
            const auto& edge = skeleton_.edges[e];
            if (plane::distance_to_segment(skeleton_.points[edge.a], skeleton_.points[edge.b], p) <
                distance)
                return true;
        }
        return false;
    }

private:
    void enter(std::size_t e) {
        const Vec2& a = skeleton_.points[skeleton_.edges[e].a];
        const Vec2& b = skeleton_.points[skeleton_.edges[e].b];
        const Vec2 reach = Vec2::Constant(clearance * cell_);
        const Vec2 from = (a.cwiseMin(b) - reach - low_) / cell_;
        const Vec2 to = (a.cwiseMax(b) + reach - low_) / cell_;
        for (int r = std::max(0, static_cast<int>(from.y()));
             r <= std::min(rows_ - 1, static_cast<int>(to.y())); ++r)
            for (int c = std::max(0, static_cast<int>(from.x()));
                 c <= std::min(columns_ - 1, static_cast<int>(to.x())); ++c)
                edges_[static_cast<std::size_t>(r) * columns_ + c].push_back(e);
    }

    const plane::Skeleton& skeleton_;
    double cell_;
    Vec2 low_;
    int columns_ = 0, rows_ = 0;
    std::vector<std::vector<std::size_t>> edges_;
};

}  // namespace

std::vector<Vec2> lattice_points(const RegionSkeleton& base) {
    const SizingField& sizes = base.sizes;
    const NearEdges near(base.skeleton, sizes);
    const Vec2 origin = base.region.outer.front();
    double low = origin.y(), high = origin.y();
    for (const Vec2& p : base.region.outer) {
        low = std::min(low, p.y());
        high = std::max(high, p.y());
    }
    const auto level_for = [&](double size) {
        // The nearest power of a half, on a logarithmic scale.
        const double part = size / sizes.coarsest();
        int level = 0;
        while (level < finest && part < std::ldexp(std::numbers::sqrt2 / 2.0, -level)) ++level;
        return level;
    };
    std::vector<Vec2> points;
    for (int level = 0; level <= finest; ++level) {
        const double step = std::ldexp(sizes.coarsest(), -level);
        const double rise = step * std::sqrt(3.0) / 2.0;
        const auto first = static_cast<long>(std::ceil((low - origin.y()) / rise));
        const auto last = static_cast<long>(std::floor((high - origin.y()) / rise));
        const auto height = [&](long row) { return origin.y() + static_cast<double>(row) * rise; };
        const RowCrossings rows(base.region, first, last, height);
        for (long row = first; row <= last; ++row) {
            const double y = height(row);
            if (level_for(sizes.shortest_in_row(y)) < level) continue;
            const auto crossings = rows.of(row);
            for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) {
                // Lattice point (column, row) lies at origin + step (column + row / 2).
                const double shift = origin.x() + 0.5 * static_cast<double>(row) * step;
                auto column = static_cast<long>(std::ceil((crossings[k] - shift) / step));
                for (;; ++column) {
                    const Vec2 p(shift + static_cast<double>(column) * step, y);
                    if (p.x() > crossings[k + 1]) break;
                    // Even columns of even rows belong to the coarser lattice.
                    if (level > 0 && row % 2 == 0 && column % 2 == 0) continue;
                    const int wanted = level_for(sizes.at(p));
                    if (wanted < level) continue;
                    if (near.crowded(p, clearance * std::ldexp(sizes.coarsest(), -wanted)))
                        continue;
                    points.push_back(p);
                }
            }
        }
    }
    return points;
}

}  // namespace tearline::plies
