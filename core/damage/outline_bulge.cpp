#include "core/damage/outline_bulge.h"

#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/plane/nearest_on_line.h"

namespace tearline::damage {

namespace {

constexpr double bulge_share = 0.1;  // of the points' extent; common practice (no source)

/// The greatest distance between two points.
double extent(const Loop2& points) {
    double most = 0.0;
    for (const Vec2& a : points)
        for (const Vec2& b : points) most = std::max(most, (a - b).norm());
    return most;
}

}  // namespace

Warnings bulge_warnings(const Loop2& picks, const Loop2& drawn) {
    double beyond = 0.0;
    for (const Vec2& p : drawn)
        if (!picks.empty() && !contains(picks, p))
            beyond = std::max(beyond, plane::distance_to_loop(picks, p));
    if (!(beyond > bulge_share * extent(picks))) return {};
    const double more = 100.0 * (std::abs(signed_area(drawn)) / std::abs(signed_area(picks)) - 1.0);
    return {{warn::OutlineBulges{beyond, more}}};
}

}  // namespace tearline::damage
