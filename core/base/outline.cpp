#include "core/base/outline.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace tearline {

double signed_area(const Loop2& loop) {
    if (loop.empty()) return 0.0;
    // Relative to the first point, so that far-away coordinates do not cancel.
    const Vec2 origin = loop.front();
    double twice = 0.0;
    for (std::size_t i = 1; i + 1 < loop.size(); ++i)
        twice += cross2(loop[i] - origin, loop[i + 1] - origin);
    return 0.5 * twice;
}

double area(const Region2& region) {
    double total = std::abs(signed_area(region.outer));
    for (const Loop2& hole : region.holes) total -= std::abs(signed_area(hole));
    return total;
}

namespace {
template <class Loop>
double closed_length(const Loop& loop) {
    double length = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i)
        length += (loop[(i + 1) % loop.size()] - loop[i]).norm();
    return length;
}
}  // namespace

double perimeter(const Loop2& loop) {
    return closed_length(loop);
}
double perimeter(const Loop3& loop) {
    return closed_length(loop);
}

bool contains(const Loop2& loop, const Vec2& point) {
    if (loop.empty()) return false;
    bool inside = false;
    const double x = point.x(), y = point.y();
    const Vec2* b = &loop.back();
    bool above_b = b->y() > y;
    for (const Vec2& a : loop) {
        const bool above_a = a.y() > y;
        if (above_a != above_b && x < (b->x() - a.x()) * (y - a.y()) / (b->y() - a.y()) + a.x())
            inside = !inside;
        b = &a;
        above_b = above_a;
    }
    return inside;
}

bool contains(const Region2& region, const Vec2& point) {
    if (!contains(region.outer, point)) return false;
    for (const Loop2& hole : region.holes)
        if (contains(hole, point)) return false;
    return true;
}

Loop2 convex_hull(Loop2 points) {
    std::sort(points.begin(), points.end(), [](const Vec2& a, const Vec2& b) {
        return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y();
    });
    Loop2 hull;
    const auto chain = [&hull](auto first, auto last) {
        const std::size_t base = hull.size();
        for (auto p = first; p != last; ++p) {
            while (hull.size() >= base + 2 &&
                   !(cross2(hull.back() - hull[hull.size() - 2], *p - hull[hull.size() - 2]) > 0.0))
                hull.pop_back();
            hull.push_back(*p);
        }
        hull.pop_back();
    };
    chain(points.begin(), points.end());
    chain(points.rbegin(), points.rend());
    return hull;
}

double breadth_along(const Loop2& points, const Vec2& way) {
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const Vec2& p : points) {
        low = std::min(low, p.dot(way));
        high = std::max(high, p.dot(way));
    }
    return high - low;
}

Breadth least_breadth(const Loop2& points) {
    const Loop2 hull = convex_hull(points);
    Breadth least{std::numeric_limits<double>::infinity(), 0.0};
    // The farthest point from a side goes round as the side does.
    std::size_t far = 0;
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const Vec2 side = (hull[(i + 1) % hull.size()] - hull[i]).normalized();
        const auto off = [&](std::size_t k) {
            return cross2(side, hull[k % hull.size()] - hull[i]);
        };
        far = std::max(far, i + 1);
        while (far < i + hull.size() && off(far + 1) >= off(far)) ++far;
        const double width = off(far);
        if (!(width < least.width)) continue;
        const double turn = -std::atan2(side.y(), side.x()) * 180.0 / std::numbers::pi;
        least = {width, std::fmod(turn + 360.0, 180.0)};
    }
    return least;
}

}  // namespace tearline
