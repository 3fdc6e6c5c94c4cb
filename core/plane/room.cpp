#include "core/plane/room.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tearline::plane {

Box box_round(const std::vector<Vec2>& points, double margin) {
    Box box;
    if (points.empty()) return box;
    box.low = box.high = points.front();
    for (const Vec2& p : points) box.low = box.low.cwiseMin(p), box.high = box.high.cwiseMax(p);
    box.low.array() -= margin;
    box.high.array() += margin;
    return box;
}

bool meets(const Box& box, const Vec2& a, const Vec2& b) {
    // The part of the segment between the two pairs of parallel sides (slab method).
    double from = 0.0, to = 1.0;
    for (int i = 0; i < 2; ++i) {
        const double along = b[i] - a[i];
        if (along == 0.0) {
            if (a[i] < box.low[i] || a[i] > box.high[i]) return false;
            continue;
        }
        const double t0 = (box.low[i] - a[i]) / along, t1 = (box.high[i] - a[i]) / along;
        from = std::max(from, std::min(t0, t1));
        to = std::min(to, std::max(t0, t1));
    }
    return from <= to;
}

std::optional<Box> nearest_free(const Box& all, const Vec2& size, int steps,
                                const std::function<bool(const Box&)>& is_free) {
    const Vec2 middle = 0.5 * (all.low + all.high), margin(1.0, 1.0);
    std::optional<Box> best;
    double nearest = 0.0;
    for (int i = 0; i <= steps; ++i) {
        for (int j = 0; j <= steps; ++j) {
            const Vec2 centre(all.low.x() + (all.high.x() - all.low.x()) * i / steps,
                              all.low.y() + (all.high.y() - all.low.y()) * j / steps);
            const double away = (centre - middle).norm();
            if (best && away >= nearest) continue;
            const Box box{centre - 0.5 * size - margin, centre + 0.5 * size + margin};
            if (is_free(box)) best = box, nearest = away;
        }
    }
    return best;
}

double distance_to_edge(const Region2& region, const Vec2& point) {
    double nearest = std::numeric_limits<double>::infinity();
    const auto measure = [&](const Loop2& loop) {
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec2& a = loop[i];
            const Vec2 along = loop[(i + 1) % loop.size()] - a;
            const double square = along.squaredNorm();
            const double t =
                square > 0.0 ? std::clamp((point - a).dot(along) / square, 0.0, 1.0) : 0.0;
            nearest = std::min(nearest, (point - a - t * along).norm());
        }
    };
    measure(region.outer);
    for (const Loop2& hole : region.holes) measure(hole);
    return nearest;
}

Vec2 roomiest_point(const Region2& region) {
    constexpr int steps = 40;
    const Box box = box_round(region.outer);
    Vec2 best = region.outer.empty() ? Vec2(0, 0) : region.outer.front();
    double widest = -1.0;
    for (int i = 0; i <= steps; ++i) {
        for (int j = 0; j <= steps; ++j) {
            const Vec2 p(box.low.x() + (box.high.x() - box.low.x()) * i / steps,
                         box.low.y() + (box.high.y() - box.low.y()) * j / steps);
            if (!contains(region, p)) continue;
            const double room = distance_to_edge(region, p);
            if (room > widest) widest = room, best = p;
        }
    }
    return best;
}

}  // namespace tearline::plane
