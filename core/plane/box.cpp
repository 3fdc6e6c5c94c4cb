#include "core/plane/box.h"

#include <algorithm>

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

}  // namespace tearline::plane
