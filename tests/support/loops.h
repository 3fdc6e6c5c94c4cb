#pragma once
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/outline.h"

/// Loops made by formula, and distances between loops point by point: slow and plain, for tests.
namespace tearline::test {

/// Points spread evenly round a circle, counter-clockwise from +x.
inline Loop2 circle(double radius, const Vec2& middle = Vec2(0, 0), int count = 360) {
    Loop2 loop;
    for (int i = 0; i < count; ++i) {
        const double a = 2.0 * std::numbers::pi * i / count;
        loop.push_back(middle + radius * Vec2(std::cos(a), std::sin(a)));
    }
    return loop;
}

/// The same clockwise, as a hole's edge runs.
inline Loop2 round_hole(double radius, const Vec2& middle = Vec2(0, 0), int count = 360) {
    const Loop2 loop = circle(radius, middle, count);
    return {loop.rbegin(), loop.rend()};
}

/// Area of regions that do not overlap [mm2].
inline double area_of(const std::vector<Region2>& regions) {
    double sum = 0.0;
    for (const Region2& region : regions) sum += area(region);
    return sum;
}

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
