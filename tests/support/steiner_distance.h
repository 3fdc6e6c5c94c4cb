#pragma once
#include <cmath>
#include <functional>
#include <limits>
#include <map>
#include <queue>
#include <tuple>
#include <utility>
#include <vector>

#include "core/surface/intrinsic.h"
#include "core/surface/patch.h"

namespace tearline::test {

/// Length of the shortest way between two places by Dijkstra over `points` places on each edge,
/// each joined to all others of its triangles straight: never shorter than the true way [mm].
inline double steiner_distance(const surface::Patch& patch, const surface::Location& from,
                               const surface::Location& to, int points) {
    using Key = std::tuple<std::int32_t, std::int32_t, int>;  // an edge's vertices and which place
    std::map<Key, int> ids;
    std::vector<std::vector<std::pair<int, Vec2>>> in_triangle(patch.mesh.triangle.size());
    const auto in_plane = [](const surface::FlatTriangle& flat, const Vec3& w) {
        return Vec2(w[0] * flat[0] + w[1] * flat[1] + w[2] * flat[2]);
    };
    int count = 2;
    std::vector<std::vector<std::size_t>> triangles_of(2);
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t) {
        const auto flat = surface::lay_flat(patch.mesh.edge_length[t]);
        const auto& v = patch.mesh.triangle[t];
        const auto add = [&](int id, const Vec2& p) {
            in_triangle[t].emplace_back(id, p);
            triangles_of[static_cast<std::size_t>(id)].push_back(t);
        };
        for (int i = 0; i < 3; ++i) {
            const int j = (i + 1) % 3;
            for (int k = 0; k <= points; ++k) {  // the first corner and what is between
                const std::int32_t a = v[i], b = v[j];
                Key key{a, a, 0};
                if (k > 0) key = a < b ? Key{a, b, k} : Key{b, a, points + 1 - k};
                const auto [found, fresh] = ids.try_emplace(key, count);
                if (fresh) {
                    ++count;
                    triangles_of.emplace_back();
                }
                add(found->second, flat[i] + (flat[j] - flat[i]) * k / (points + 1));
            }
        }
        if (t == from.triangle.index()) add(0, in_plane(flat, from.weights));
        if (t == to.triangle.index()) add(1, in_plane(flat, to.weights));
    }
    std::vector<double> distance(static_cast<std::size_t>(count),
                                 std::numeric_limits<double>::infinity());
    using Next = std::pair<double, int>;
    std::priority_queue<Next, std::vector<Next>, std::greater<>> next;
    distance[0] = 0.0;
    next.emplace(0.0, 0);
    while (!next.empty()) {
        const auto [come, id] = next.top();
        next.pop();
        if (id == 1) return come;
        if (come > distance[static_cast<std::size_t>(id)]) continue;
        for (const std::size_t t : triangles_of[static_cast<std::size_t>(id)]) {
            Vec2 here(0, 0);
            for (const auto& [other, p] : in_triangle[t])
                if (other == id) here = p;
            for (const auto& [other, p] : in_triangle[t]) {
                const double reached = come + (p - here).norm();
                if (!(reached < distance[static_cast<std::size_t>(other)])) continue;
                distance[static_cast<std::size_t>(other)] = reached;
                next.emplace(reached, other);
            }
        }
    }
    return std::numeric_limits<double>::infinity();
}

}  // namespace tearline::test
