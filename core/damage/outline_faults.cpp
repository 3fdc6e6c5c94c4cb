#include "core/damage/outline_faults.h"

#include <algorithm>

namespace tearline::damage {

namespace {

bool cross(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
    const double c_side = cross2(b - a, c - a), d_side = cross2(b - a, d - a);
    const double a_side = cross2(d - c, a - c), b_side = cross2(d - c, b - c);
    return (c_side > 0.0) != (d_side > 0.0) && (a_side > 0.0) != (b_side > 0.0);
}

bool boxes_apart(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
    return std::max(a.x(), b.x()) < std::min(c.x(), d.x()) ||
           std::max(c.x(), d.x()) < std::min(a.x(), b.x()) ||
           std::max(a.y(), b.y()) < std::min(c.y(), d.y()) ||
           std::max(c.y(), d.y()) < std::min(a.y(), b.y());
}

}  // namespace

std::optional<std::size_t> self_crossing(const Loop2& chart) {
    const std::size_t n = chart.size();
    for (std::size_t i = 0; i + 2 < n; ++i) {
        const Vec2 &a = chart[i], &b = chart[i + 1];
        // The last edge is a neighbour of the first.
        const std::size_t last = i == 0 ? n - 1 : n;
        for (std::size_t k = i + 2; k < last; ++k) {
            const Vec2 &c = chart[k], &d = chart[(k + 1) % n];
            if (!boxes_apart(a, b, c, d) && cross(a, b, c, d)) return i;
        }
    }
    return std::nullopt;
}

std::optional<Vec3> enclosed_opening(const surface::Patch& patch, const Loop2& chart) {
    for (const Loop2& hole : patch.domain().holes)
        for (const Vec2& p : hole)
            if (contains(chart, p)) {
                const auto at = patch.locate(p);
                return at ? std::optional<Vec3>(patch.sample(*at).position) : Vec3(Vec3::Zero());
            }
    return std::nullopt;
}

}  // namespace tearline::damage
