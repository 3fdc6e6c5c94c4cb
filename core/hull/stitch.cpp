#include "core/hull/stitch.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_set>

namespace tearline::hull {
namespace {

struct OpenEdge {
    std::int32_t triangle = -1, side = 0;
};

std::vector<OpenEdge> open_edges(const Triangles& triangles, std::size_t vertices) {
    const Neighbours n = find_neighbours(triangles, vertices);
    // Crowded edges have no neighbours recorded either; they are no openings.
    std::map<std::pair<std::int32_t, std::int32_t>, int> crowded;
    for (const CrowdedEdge& e : n.crowded) crowded[std::minmax(e.a, e.b)] = e.triangles;
    std::vector<OpenEdge> result;
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        for (std::size_t k = 0; k < 3; ++k) {
            if (n.topology.across[t][k] >= 0) continue;
            const std::pair<std::int32_t, std::int32_t> ends =
                std::minmax({triangles[t][k], triangles[t][(k + 1) % 3]});
            if (!crowded.empty() && crowded.count(ends)) continue;
            result.push_back({static_cast<std::int32_t>(t), static_cast<std::int32_t>(k)});
        }
    }
    return result;
}

/// Boundary vertices in order of x, so that near ones are found in a short window.
std::vector<std::int32_t> boundary_by_x(const std::vector<Vec3>& vertices,
                                        const Triangles& triangles,
                                        const std::vector<OpenEdge>& edges) {
    std::vector<std::int32_t> result;
    for (const OpenEdge& e : edges) {
        const auto& t = triangles[static_cast<std::size_t>(e.triangle)];
        result.push_back(t[static_cast<std::size_t>(e.side)]);
        result.push_back(t[static_cast<std::size_t>((e.side + 1) % 3)]);
    }
    std::sort(result.begin(), result.end());
    result.erase(std::unique(result.begin(), result.end()), result.end());
    std::stable_sort(result.begin(), result.end(), [&](std::int32_t a, std::int32_t b) {
        return vertices[static_cast<std::size_t>(a)].x() <
               vertices[static_cast<std::size_t>(b)].x();
    });
    return result;
}

std::uint64_t pair_key(std::int32_t a, std::int32_t b) {
    return (std::uint64_t{static_cast<std::uint32_t>(std::min(a, b))} << 32) |
           static_cast<std::uint32_t>(std::max(a, b));
}

std::size_t join_vertices(const std::vector<Vec3>& vertices, Triangles& triangles, double gap) {
    const std::vector<OpenEdge> edges = open_edges(triangles, vertices.size());
    if (edges.empty()) return 0;
    std::unordered_set<std::uint64_t> connected;
    for (const auto& t : triangles) {  // only edges short enough to matter
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3& a = vertices[static_cast<std::size_t>(t[k])];
            const Vec3& b = vertices[static_cast<std::size_t>(t[(k + 1) % 3])];
            if ((a - b).squaredNorm() <= gap * gap)
                connected.insert(pair_key(t[k], t[(k + 1) % 3]));
        }
    }
    const std::vector<std::int32_t> rim = boundary_by_x(vertices, triangles, edges);
    std::map<std::int32_t, std::int32_t> becomes;
    for (std::size_t i = 0; i < rim.size(); ++i) {
        if (becomes.count(rim[i])) continue;
        const Vec3& p = vertices[static_cast<std::size_t>(rim[i])];
        for (std::size_t j = i + 1; j < rim.size(); ++j) {
            const Vec3& q = vertices[static_cast<std::size_t>(rim[j])];
            if (q.x() - p.x() > gap) break;
            if ((q - p).squaredNorm() > gap * gap || becomes.count(rim[j])) continue;
            if (connected.count(pair_key(rim[i], rim[j]))) continue;
            becomes[rim[j]] = rim[i];
        }
    }
    if (becomes.empty()) return 0;
    for (auto& t : triangles) {
        for (std::int32_t& v : t) {
            const auto found = becomes.find(v);
            if (found != becomes.end()) v = found->second;
        }
    }
    return becomes.size();
}

/// Vertices strictly inside an open edge and within `gap` of it, in order along it.
std::vector<std::int32_t> vertices_on(const std::vector<Vec3>& vertices,
                                      const std::vector<std::int32_t>& rim, std::int32_t from,
                                      std::int32_t to, double gap) {
    const Vec3& a = vertices[static_cast<std::size_t>(from)];
    const Vec3& b = vertices[static_cast<std::size_t>(to)];
    const Vec3 d = b - a;
    const double length = d.norm();
    std::vector<std::pair<double, std::int32_t>> found;
    const double low = std::min(a.x(), b.x()) - gap, high = std::max(a.x(), b.x()) + gap;
    auto i = std::lower_bound(rim.begin(), rim.end(), low, [&](std::int32_t v, double x) {
        return vertices[static_cast<std::size_t>(v)].x() < x;
    });
    for (; i != rim.end() && vertices[static_cast<std::size_t>(*i)].x() <= high; ++i) {
        if (*i == from || *i == to) continue;
        const Vec3 r = vertices[static_cast<std::size_t>(*i)] - a;
        const double along = r.dot(d) / length;
        if (along <= gap || along >= length - gap) continue;
        if ((r - along / length * d).squaredNorm() <= gap * gap) found.emplace_back(along, *i);
    }
    std::sort(found.begin(), found.end());
    std::vector<std::int32_t> result;
    for (const auto& [along, v] : found) result.push_back(v);
    return result;
}

std::size_t split_edges(const std::vector<Vec3>& vertices, Triangles& triangles, double gap) {
    const std::vector<OpenEdge> edges = open_edges(triangles, vertices.size());
    const std::vector<std::int32_t> rim = boundary_by_x(vertices, triangles, edges);
    std::vector<bool> touched(triangles.size(), false);
    std::size_t splits = 0;
    for (const OpenEdge& e : edges) {
        const auto number = static_cast<std::size_t>(e.triangle);
        if (touched[number]) continue;  // its second open edge comes in the next round
        const auto k = static_cast<std::size_t>(e.side);
        const auto t = triangles[number];
        const std::int32_t from = t[k], to = t[(k + 1) % 3], apex = t[(k + 2) % 3];
        std::vector<std::int32_t> on = vertices_on(vertices, rim, from, to, gap);
        on.erase(std::remove(on.begin(), on.end(), apex), on.end());
        if (on.empty()) continue;
        touched[number] = true;
        std::int32_t start = from;
        on.push_back(to);
        triangles[number] = {start, on.front(), apex};
        for (std::size_t i = 0; i + 1 < on.size(); ++i) {
            triangles.push_back({on[i], on[i + 1], apex});
        }
        ++splits;
    }
    return splits;
}

}  // namespace

StitchCounts stitch(std::vector<Vec3>& vertices, Triangles& triangles, double gap) {
    constexpr int most_rounds = 3;  // a triangle has three edges that may be open
    StitchCounts counts;
    counts.joined = join_vertices(vertices, triangles, gap);
    for (int round = 0; round < most_rounds; ++round) {
        const std::size_t splits = split_edges(vertices, triangles, gap);
        counts.split += splits;
        if (splits == 0) break;
    }
    return counts;
}

}  // namespace tearline::hull
