#include "core/plane/thin_line.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/plane/segment.h"

namespace tearline::plane {
namespace {

/// Keeps the farthest point of each stretch that bulges more than the tolerance (Douglas-Peucker).
void keep_corners(const Loop2& loop, std::size_t from, std::size_t to, double tolerance,
                  std::vector<bool>& keep) {
    std::vector<std::pair<std::size_t, std::size_t>> stretches{{from, to}};
    while (!stretches.empty()) {
        const auto [first, last] = stretches.back();
        stretches.pop_back();
        double widest = tolerance;
        std::size_t at = first;
        for (std::size_t i = first + 1; i < last; ++i) {
            const double d = distance_to_segment(loop[first], loop[last % loop.size()], loop[i]);
            if (d > widest) widest = d, at = i;
        }
        if (at == first) continue;
        keep[at] = true;
        stretches.emplace_back(first, at);
        stretches.emplace_back(at, last);
    }
}

}  // namespace

Loop2 thinned(const Loop2& loop, double tolerance) {
    if (loop.size() < 4) return loop;
    // Two points far apart are kept for certain: a place of the greatest extent, and the one
    // opposite.
    std::size_t start = 0;
    for (std::size_t i = 1; i < loop.size(); ++i)
        if (loop[i].x() < loop[start].x()) start = i;
    Loop2 turned(loop.begin() + static_cast<std::ptrdiff_t>(start), loop.end());
    turned.insert(turned.end(), loop.begin(), loop.begin() + static_cast<std::ptrdiff_t>(start));
    std::size_t opposite = 0;
    for (std::size_t i = 1; i < turned.size(); ++i)
        if ((turned[i] - turned[0]).norm() > (turned[opposite] - turned[0]).norm()) opposite = i;
    if (opposite == 0) return {loop.front()};
    std::vector<bool> keep(turned.size(), false);
    keep[0] = keep[opposite] = true;
    keep_corners(turned, 0, opposite, tolerance, keep);
    keep_corners(turned, opposite, turned.size(), tolerance, keep);
    Loop2 out;
    for (std::size_t i = 0; i < turned.size(); ++i)
        if (keep[i]) out.push_back(turned[i]);
    return out;
}

Loop2 thinned(const Loop2& loop, double chord, double longest) {
    const std::size_t n = loop.size();
    if (n < 4) return loop;
    Loop2 out{loop.front()};
    std::size_t last = 0;
    const auto stands_for = [&](std::size_t from, std::size_t to) {
        const Vec2 u = loop[to % n] - loop[from];
        const double length = u.norm();
        if (!(length <= longest) || !(length > 0.0)) return false;
        for (std::size_t k = from + 1; k < to; ++k) {
            const Vec2 w = loop[k] - loop[from];
            const double along = w.dot(u) / length;
            if (std::abs(cross2(u, w)) > chord * length || along < 0.0 || along > length)
                return false;
        }
        return true;
    };
    for (std::size_t i = 1; i < n; ++i) {
        if (stands_for(last, i + 1)) continue;
        out.push_back(loop[i]);
        last = i;
    }
    return out.size() >= 3 ? out : loop;
}

}  // namespace tearline::plane
