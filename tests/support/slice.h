#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <stdexcept>
#include <vector>

#include "core/base/vec.h"

/// Plane sections of meshes: a tape laid round a hull, to measure girths without the program's own
/// lengths.
namespace tearline::test {

/// The section of a triangle mesh by the plane x = `at`, in order from one end to the other.
/// @param position  [mm] per vertex; the mesh is cut where these have x = at
/// @param carried   what is wanted of each section point, per vertex (the same points, or another
///                  map of the same mesh: linear inside each triangle)
template <class Point>
std::vector<Point> section(const std::vector<Vec3>& position, const std::vector<Point>& carried,
                           const std::vector<std::array<std::int32_t, 3>>& triangles, double at) {
    using Edge = std::pair<std::int32_t, std::int32_t>;
    std::map<Edge, std::vector<Edge>> joined;  // crossed edges that share a triangle
    for (const auto& v : triangles) {
        std::vector<Edge> crossed;
        for (std::size_t k = 0; k < 3; ++k) {
            const auto a = std::min(v[k], v[(k + 1) % 3]), b = std::max(v[k], v[(k + 1) % 3]);
            if ((position[a].x() < at) != (position[b].x() < at)) crossed.emplace_back(a, b);
        }
        if (crossed.size() == 2) {
            joined[crossed[0]].push_back(crossed[1]);
            joined[crossed[1]].push_back(crossed[0]);
        }
    }
    const auto end = std::find_if(joined.begin(), joined.end(),
                                  [](const auto& entry) { return entry.second.size() == 1; });
    if (end == joined.end()) throw std::runtime_error("the plane misses the piece");
    std::vector<Point> points;
    Edge before = end->first, now = end->first;
    for (bool going = true; going;) {
        const double a = position[now.first].x(), b = position[now.second].x();
        const double share = (at - a) / (b - a);
        points.push_back((1.0 - share) * carried[now.first] + share * carried[now.second]);
        going = false;
        for (const Edge& next : joined[now])
            if (next != before && !going) {
                before = now;
                now = next;
                going = true;
            }
    }
    return points;
}

/// A girth, its smooth turning and its one sharp corner, by chords and the turns between them.
struct Girth {
    double length = 0.0;  ///< [mm] chords made arcs by the turns at their ends
    double turn = 0.0;    ///< [rad] of the smooth parts, all the way
    double corner = 0.0;  ///< [rad] of corners over `sharp`
};

template <class Point>
Girth girth(std::vector<Point> points, double sharp) {
    // Points of one place, where the plane passes a vertex, say nothing of direction.
    std::vector<Point> kept{points.front()};
    for (const Point& p : points)
        if ((p - kept.back()).norm() > 0.5) kept.push_back(p);
    // The girth ends where the section does.
    if (kept.back() != points.back()) {
        if (kept.size() > 1) kept.pop_back();
        kept.push_back(points.back());
    }
    const auto chord = [&](std::size_t i) { return Point(kept[i + 1] - kept[i]); };
    const std::size_t count = kept.size() - 1;
    std::vector<double> turns(count + 1, 0.0);
    for (std::size_t i = 1; i < count; ++i) {
        const Point a = chord(i - 1), b = chord(i);
        turns[i] = std::acos(std::clamp(a.dot(b) / (a.norm() * b.norm()), -1.0, 1.0));
    }
    Girth total;
    for (std::size_t i = 1; i < count; ++i)
        (turns[i] > sharp ? total.corner : total.turn) += turns[i];
    for (std::size_t i = 0; i < count; ++i) {
        // Curvature of the chord's two neighbours, corners left out: half a turn at each end.
        double half = 0.0;
        int ends = 0;
        for (const std::size_t j : {i, i + 1})
            if (j > 0 && j < count && turns[j] <= sharp) {
                const double span = 0.5 * (chord(j - 1).norm() + chord(j).norm());
                half += 0.5 * turns[j] * chord(i).norm() / span;
                ++ends;
            }
        if (ends > 0) half /= ends;
        total.length += chord(i).norm() * (half > 0.0 ? half / std::sin(half) : 1.0);
        // The outermost half turns, which no inner point sees.
        if ((i == 0 || i + 1 == count) && ends > 0) total.turn += half;
    }
    return total;
}

}  // namespace tearline::test
