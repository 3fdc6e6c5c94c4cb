#pragma once
#include <algorithm>
#include <cmath>

#include "core/base/outline.h"

/// Distances between loops, point by point: slow and plain, for tests.
namespace tearline::test {

/// Distance of a point from a closed polygon's edge, in the plane or in space [mm].
template <class Point>
double distance_to(const std::vector<Point>& loop, const Point& p) {
    double least = 1e300;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Point &a = loop[i], u = loop[(i + 1) % loop.size()] - a;
        const double whole = u.squaredNorm();
        const double s = whole > 0.0 ? std::clamp((p - a).dot(u) / whole, 0.0, 1.0) : 0.0;
        least = std::min(least, (p - a - s * u).norm());
    }
    return least;
}

/// Largest distance of a loop's points from another loop's edge [mm].
template <class Point>
double farthest(const std::vector<Point>& from, const std::vector<Point>& to) {
    double worst = 0.0;
    for (const Point& p : from) worst = std::max(worst, distance_to(to, p));
    return worst;
}

/// How far apart two loops are, either way [mm].
template <class Point>
double apart(const std::vector<Point>& a, const std::vector<Point>& b) {
    return std::max(farthest(a, b), farthest(b, a));
}

}  // namespace tearline::test
