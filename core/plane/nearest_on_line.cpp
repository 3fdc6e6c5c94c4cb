#include "core/plane/nearest_on_line.h"

#include <algorithm>

#include "core/plane/segment.h"

namespace tearline::plane {

OnLine nearest_on_loop(const Loop2& loop, const Vec2& p) {
    OnLine best;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 &a = loop[i], &b = loop[(i + 1) % loop.size()];
        const Vec2 at = a + nearest_share(a, b, p) * (b - a);
        const double distance = (p - at).norm();
        if (distance < best.distance) best = {i, at, distance};
    }
    return best;
}

double distance_to_loop(const Loop2& loop, const Vec2& p) {
    return nearest_on_loop(loop, p).distance;
}

double distance_to_edge(const Region2& region, const Vec2& p) {
    double least = distance_to_loop(region.outer, p);
    for (const Loop2& hole : region.holes) least = std::min(least, distance_to_loop(hole, p));
    return least;
}

double distance_to_line(std::span<const Vec2> line, const Vec2& p) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
        least = std::min(least, distance_to_segment(line[i], line[i + 1], p));
    return least;
}

double distance_to_lines(const std::vector<std::vector<Vec2>>& lines, const Vec2& p) {
    double least = std::numeric_limits<double>::infinity();
    for (const auto& line : lines) least = std::min(least, distance_to_line(line, p));
    return least;
}

}  // namespace tearline::plane
