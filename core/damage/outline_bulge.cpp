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
    return {warning_of(
        "outline-bulges",
        "the smooth outline lies up to " + said_length(beyond, 1) +
            " outside the straight lines between its points and holds " + fixed(more, 0) +
            " % more than they do: where the damage does not reach so far, " +
            plainly("write damage.join = \"straight\"", "have the points joined straight") +
            " or give more points")};
}

}  // namespace tearline::damage
