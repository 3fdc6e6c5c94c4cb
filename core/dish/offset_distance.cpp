#include "core/dish/offset_distance.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

#include "core/base/tolerances.h"
#include "core/dish/tolerances.h"
#include "core/plane/nearest_on_line.h"
#include "core/plane/segment.h"

namespace tearline::dish {
namespace {

/// Buckets that a point between the cells may be away from the nearest one.
constexpr int search_rings = 3;

Vec3 weights(const std::array<Vec2, 3>& corner, const Vec2& p) {
    const Vec2 a = corner[0] - p, b = corner[1] - p, c = corner[2] - p;
    const Vec3 w(cross2(b, c), cross2(c, a), cross2(a, b));
    return w / w.sum();
}

/// Where a ray stands at each station as far as it is on the patch, and where it leaves that.
std::vector<std::pair<Vec2, double>> stops_of(const SweptRay& ray,
                                              const std::vector<double>& stations, double start) {
    std::vector<std::pair<Vec2, double>> out;
    out.reserve(ray.point.size() + 1);
    for (std::size_t k = 0; k < ray.point.size() && stations[k] <= ray.on_patch; ++k)
        out.emplace_back(ray.point[k], std::max(stations[k], start));
    if (out.empty() || out.back().second < ray.on_patch) out.emplace_back(ray.rim, ray.on_patch);
    return out;
}

double distance_to_triangle(const std::array<Vec2, 3>& corner, const Vec2& p) {
    double best = std::numeric_limits<double>::infinity();
    for (int i = 0; i < 3; ++i)
        best = std::min(best, plane::distance_to_segment(corner[i], corner[(i + 1) % 3], p));
    return best;
}

}  // namespace

OffsetDistance::OffsetDistance(const OffsetSweep& sweep)
    : outline_(sweep.outline), farthest_(sweep.stations.back()) {
    low_ = high_ = outline_.front();
    for (const Front& front : sweep.fronts) {
        const std::size_t n = front.rays.size();
        if (n == 0) continue;
        const auto stops = [&](std::size_t i) {
            return stops_of(front.rays[i % n], sweep.stations, front.start);
        };
        auto on_a = stops(0);
        for (std::size_t i = 0; i + (front.closed ? 0 : 1) < n; ++i) {
            auto on_b = stops(i + 1);
            add_strip(on_a, on_b);
            on_a = std::move(on_b);
        }
    }
    for (const Cell& cell : cells_)
        for (const Vec2& p : cell.corner) {
            low_ = low_.cwiseMin(p);
            high_ = high_.cwiseMax(p);
        }
    lay_buckets();
    sort_sides();
}

void OffsetDistance::add_cell(const Cell& cell) {
    const double twice = cross2(cell.corner[1] - cell.corner[0], cell.corner[2] - cell.corner[0]);
    // Folded back behind a focal point, or nothing between two rays of one place.
    if (twice > tolerance::chart_merge * tolerance::chart_merge) cells_.push_back(cell);
}

void OffsetDistance::add_strip(const std::vector<Stop>& on_a, const std::vector<Stop>& on_b) {
    // Fronts run counter-clockwise from a to b, rays outward: the cells' corners follow from that.
    std::size_t i = 0, j = 0;
    while (i + 1 < on_a.size() || j + 1 < on_b.size()) {
        const bool step_a = j + 1 >= on_b.size() ||
                            (i + 1 < on_a.size() && on_a[i + 1].second <= on_b[j + 1].second);
        const auto& next = step_a ? on_a[i + 1] : on_b[j + 1];
        add_cell({{on_b[j].first, on_a[i].first, next.first},
                  {on_b[j].second, on_a[i].second, next.second}});
        ++(step_a ? i : j);
    }
}

void OffsetDistance::lay_buckets() {
    const Vec2 extent = high_ - low_;
    width_ = std::max(std::sqrt(extent.x() * extent.y() / (0.5 * cells_.size() + 1.0)),
                      extent.maxCoeff() / 1000.0);
    width_ = std::max(width_, tolerance::chart_merge);
    columns_ = static_cast<int>(extent.x() / width_) + 1;
    rows_ = static_cast<int>(extent.y() / width_) + 1;
    const auto visit = [&](const Cell& cell, auto&& act) {
        const Vec2 a = cell.corner[0].cwiseMin(cell.corner[1]).cwiseMin(cell.corner[2]) - low_;
        const Vec2 b = cell.corner[0].cwiseMax(cell.corner[1]).cwiseMax(cell.corner[2]) - low_;
        for (int r = static_cast<int>(a.y() / width_); r <= static_cast<int>(b.y() / width_); ++r)
            for (int c = static_cast<int>(a.x() / width_); c <= static_cast<int>(b.x() / width_);
                 ++c)
                act(static_cast<std::size_t>(std::min(r, rows_ - 1)) * columns_ +
                    std::min(c, columns_ - 1));
    };
    first_.assign(static_cast<std::size_t>(columns_) * rows_ + 1, 0);
    for (const Cell& cell : cells_) visit(cell, [&](std::size_t k) { ++first_[k + 1]; });
    std::partial_sum(first_.begin(), first_.end(), first_.begin());
    member_.resize(static_cast<std::size_t>(first_.back()));
    std::vector<std::int32_t> fill(first_.begin(), first_.end() - 1);
    for (std::size_t i = 0; i < cells_.size(); ++i)
        visit(cells_[i], [&](std::size_t k) { member_[fill[k]++] = static_cast<std::int32_t>(i); });
}

void OffsetDistance::sort_sides() {
    side_.assign(static_cast<std::size_t>(columns_) * rows_, Side::outside);
    std::vector<double> crossings;
    for (int r = 0; r < rows_; ++r) {
        const double y = low_.y() + (r + 0.5) * width_;
        crossings.clear();
        for (std::size_t i = 0, j = outline_.size() - 1; i < outline_.size(); j = i++) {
            const Vec2 &p = outline_[i], &q = outline_[j];
            if ((p.y() > y) != (q.y() > y))
                crossings.push_back(p.x() + (y - p.y()) * (q.x() - p.x()) / (q.y() - p.y()));
        }
        std::sort(crossings.begin(), crossings.end());
        for (std::size_t k = 0; k + 1 < crossings.size(); k += 2)
            for (int c = 0; c < columns_; ++c) {
                const double x = low_.x() + (c + 0.5) * width_;
                if (x > crossings[k] && x < crossings[k + 1])
                    side_[static_cast<std::size_t>(r) * columns_ + c] = Side::inside;
            }
    }
    for (std::size_t i = 0, j = outline_.size() - 1; i < outline_.size(); j = i++) {
        const Vec2 step = outline_[i] - outline_[j];
        const int looks = static_cast<int>(step.norm() / (0.5 * width_)) + 1;
        // The line may pass through a neighbour between two looks: all about are mixed.
        for (int k = 0; k <= looks; ++k) {
            const Vec2 q = (outline_[j] + (static_cast<double>(k) / looks) * step - low_) / width_;
            const int c0 = static_cast<int>(q.x()), r0 = static_cast<int>(q.y());
            for (int r = std::max(0, r0 - 1); r <= std::min(rows_ - 1, r0 + 1); ++r)
                for (int c = std::max(0, c0 - 1); c <= std::min(columns_ - 1, c0 + 1); ++c)
                    side_[static_cast<std::size_t>(r) * columns_ + c] = Side::mixed;
        }
    }
}

std::size_t OffsetDistance::bucket_of(const Vec2& p) const {
    const Vec2 q = (p - low_) / width_;
    const int c = static_cast<int>(std::clamp(q.x(), 0.0, columns_ - 1.0));
    const int r = static_cast<int>(std::clamp(q.y(), 0.0, rows_ - 1.0));
    return static_cast<std::size_t>(r) * columns_ + c;
}

bool OffsetDistance::inside(const Vec2& p, std::size_t bucket) const {
    if (side_[bucket] != Side::mixed) return side_[bucket] == Side::inside;
    return contains(outline_, p);
}

std::optional<double> OffsetDistance::reached(const Vec2& p) const {
    const std::size_t bucket = bucket_of(p);
    if (inside(p, bucket)) return 0.0;
    double best = std::numeric_limits<double>::infinity();
    for (std::int32_t k = first_[bucket]; k < first_[bucket + 1]; ++k) {
        const Cell& cell = cells_[member_[k]];
        const Vec3 w = weights(cell.corner, p);
        if (w.minCoeff() < -tolerance::barycentric_slack) continue;
        best = std::min(best, w.dot(Vec3(cell.distance[0], cell.distance[1], cell.distance[2])));
    }
    if (best <= farthest_) return best;
    return beside_cells(p, tolerance::between_strips);
}

double OffsetDistance::at(const Vec2& p) const {
    if (const auto found = reached(p)) return *found;
    return beside_cells(p, search_rings * width_).value_or(farthest_);
}

std::optional<double> OffsetDistance::beside_cells(const Vec2& p, double slack) const {
    const Vec2 q = (p - low_) / width_;
    const int rings = std::min(search_rings, static_cast<int>(slack / width_) + 1);
    // Along the hull's end no ray sets out from the outline: what lies beside it there is of it.
    const double off_outline = plane::distance_to_loop(outline_, p);
    double nearest = std::min(slack, off_outline);
    const Cell* found = nullptr;
    for (int r = static_cast<int>(q.y()) - rings; r <= static_cast<int>(q.y()) + rings; ++r)
        for (int c = static_cast<int>(q.x()) - rings; c <= static_cast<int>(q.x()) + rings; ++c) {
            if (r < 0 || c < 0 || r >= rows_ || c >= columns_) continue;
            const std::size_t bucket = static_cast<std::size_t>(r) * columns_ + c;
            for (std::int32_t k = first_[bucket]; k < first_[bucket + 1]; ++k) {
                const double distance = distance_to_triangle(cells_[member_[k]].corner, p);
                if (!(distance < nearest)) continue;
                nearest = distance;
                found = &cells_[member_[k]];
            }
        }
    if (found == nullptr && off_outline < slack) return 0.0;
    if (found == nullptr) return std::nullopt;
    const Vec3 w = weights(found->corner, p);
    const double d = w.dot(Vec3(found->distance[0], found->distance[1], found->distance[2]));
    return std::clamp(d, 0.0, farthest_);
}

}  // namespace tearline::dish
