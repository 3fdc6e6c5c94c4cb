#include "core/plane/room.h"

#include "core/plane/nearest_on_line.h"

namespace tearline::plane {

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
