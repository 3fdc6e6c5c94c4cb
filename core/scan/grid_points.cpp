#include "core/scan/grid_points.h"

#include <algorithm>
#include <cmath>

#include "core/plane/nearest_on_line.h"

namespace tearline::scan {

std::vector<Vec2> points_inside(const Loop2& domain, double edge) {
    Vec2 low = domain.front(), high = low;
    for (const Vec2& p : domain) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    std::vector<Vec2> inside;
    const double rise = edge * std::sqrt(0.75);
    int row = 0;
    for (double y = low.y(); y <= high.y(); y += rise, ++row)
        for (double x = low.x() + (row % 2) * 0.5 * edge; x <= high.x(); x += edge) {
            const Vec2 p(x, y);
            if (contains(domain, p) && plane::distance_to_loop(domain, p) > 0.5 * edge)
                inside.push_back(p);
        }
    return inside;
}

Loop2 stepped(const Loop2& loop, double edge) {
    Loop2 all;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2& a = loop[i];
        const Vec2& b = loop[(i + 1) % loop.size()];
        const int parts = std::max(1, static_cast<int>(std::ceil((b - a).norm() / edge)));
        for (int k = 0; k < parts; ++k) all.push_back(a + (b - a) * k / parts);
    }
    return all;
}

}  // namespace tearline::scan
