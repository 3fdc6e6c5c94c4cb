#include "core/plane/without_spikes.h"

#include <algorithm>
#include <cmath>

#include "core/plane/tolerances.h"

namespace tearline::plane {

bool is_narrow(const Vec2& before, const Vec2& tip, const Vec2& after) {
    const Vec2 u = before - tip, v = after - tip;
    const double shorter = std::min(u.norm(), v.norm()), longer = std::max(u.norm(), v.norm());
    if (!(shorter > 0.0)) return true;
    return u.dot(v) > 0.0 && std::abs(cross2(u, v)) < tolerance::spike_width * longer;
}

bool is_sharp(const Vec2& before, const Vec2& tip, const Vec2& after) {
    constexpr double sine = 0.1;
    const Vec2 u = before - tip, v = after - tip;
    return u.dot(v) > 0.0 && std::abs(cross2(u, v)) < sine * u.norm() * v.norm();
}

Loop2 without_spikes(const Loop2& loop, IsSpike is_spike) {
    Loop2 out;
    for (const Vec2& p : loop) {
        out.push_back(p);
        while (out.size() >= 3 && is_spike(out[out.size() - 3], out[out.size() - 2], out.back()))
            out.erase(out.end() - 2);
    }
    // And across the seam.
    std::size_t first = 0;
    while (out.size() - first >= 3) {
        if (is_spike(out[out.size() - 2], out.back(), out[first]))
            out.pop_back();
        else if (is_spike(out.back(), out[first], out[first + 1]))
            ++first;
        else
            break;
    }
    return {out.begin() + static_cast<std::ptrdiff_t>(first), out.end()};
}

}  // namespace tearline::plane
