#include "core/base/outline.h"

#include <cmath>

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

double perimeter(const Loop2& loop) { return closed_length(loop); }
double perimeter(const Loop3& loop) { return closed_length(loop); }

bool contains(const Loop2& loop, const Vec2& point) {
    bool inside = false;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const Vec2& a = loop[i];
        const Vec2& b = loop[j];
        if ((a.y() > point.y()) != (b.y() > point.y()) &&
            point.x() < (b.x() - a.x()) * (point.y() - a.y()) / (b.y() - a.y()) + a.x())
            inside = !inside;
    }
    return inside;
}

bool contains(const Region2& region, const Vec2& point) {
    if (!contains(region.outer, point)) return false;
    for (const Loop2& hole : region.holes)
        if (contains(hole, point)) return false;
    return true;
}

}  // namespace tearline
