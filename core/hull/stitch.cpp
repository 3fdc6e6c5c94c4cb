#include "core/hull/stitch.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>
#include <unordered_set>

#include "core/hull/point_tree.h"

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

/// Which vertices lie on an opening.
std::vector<bool> on_rim(std::size_t vertices, const Triangles& triangles,
                         const std::vector<OpenEdge>& edges) {
    std::vector<bool> result(vertices, false);
    for (const OpenEdge& e : edges) {
        const auto& t = triangles[static_cast<std::size_t>(e.triangle)];
        for (const std::int32_t side : {e.side, (e.side + 1) % 3})
            result[static_cast<std::size_t>(t[static_cast<std::size_t>(side)])] = true;
    }
    return result;
}

std::vector<std::int32_t> numbers_of(const std::vector<bool>& chosen) {
    std::vector<std::int32_t> result;
    for (std::size_t i = 0; i < chosen.size(); ++i)
        if (chosen[i]) result.push_back(static_cast<std::int32_t>(i));
    return result;
}

/// Those of the rim that have another within `gap`, in order of x: which of them stays does not
/// hang on their numbers.
std::vector<std::int32_t> crowded_by_x(const std::vector<Vec3>& vertices, const PointTree& rim,
                                       double gap) {
    std::vector<std::int32_t> result, near;
    for (const std::int32_t i : rim.numbers()) {
        const Vec3& p = vertices[static_cast<std::size_t>(i)];
        rim.near_line(p, p, gap, near);
        if (near.size() > 1) result.push_back(i);
    }
    std::sort(result.begin(), result.end(), [&](std::int32_t a, std::int32_t b) {
        const double x = vertices[static_cast<std::size_t>(a)].x();
        const double y = vertices[static_cast<std::size_t>(b)].x();
        return x != y ? x < y : a < b;
    });
    return result;
}

std::uint64_t pair_key(std::int32_t a, std::int32_t b) {
    return (std::uint64_t{static_cast<std::uint32_t>(std::min(a, b))} << 32) |
           static_cast<std::uint32_t>(std::max(a, b));
}

std::size_t join_vertices(const std::vector<Vec3>& vertices, Triangles& triangles,
                          const PointTree& tree, double gap) {
    const std::vector<std::int32_t> rim = crowded_by_x(vertices, tree, gap);
    if (rim.empty()) return 0;
    std::unordered_set<std::uint64_t> connected;
    for (const auto& t : triangles) {  // only edges short enough to matter
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3& a = vertices[static_cast<std::size_t>(t[k])];
            const Vec3& b = vertices[static_cast<std::size_t>(t[(k + 1) % 3])];
            if ((a - b).squaredNorm() <= gap * gap)
                connected.insert(pair_key(t[k], t[(k + 1) % 3]));
        }
    }
    std::vector<std::int32_t> place(vertices.size(), -1);  // on the rim
    for (std::size_t i = 0; i < rim.size(); ++i)
        place[static_cast<std::size_t>(rim[i])] = static_cast<std::int32_t>(i);
    std::unordered_map<std::int32_t, std::int32_t> becomes;
    std::vector<std::int32_t> near;
    for (std::size_t i = 0; i < rim.size(); ++i) {
        if (becomes.count(rim[i])) continue;
        const Vec3& p = vertices[static_cast<std::size_t>(rim[i])];
        tree.near_line(p, p, gap, near);
        for (const std::int32_t j : near) {
            const auto other = static_cast<std::size_t>(j);
            if (place[other] <= static_cast<std::int32_t>(i)) continue;
            if (becomes.count(j)) continue;
            if (connected.count(pair_key(rim[i], j))) continue;
            becomes[j] = rim[i];
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
std::vector<std::int32_t> vertices_on(const std::vector<Vec3>& vertices, const PointTree& rim,
                                      std::int32_t from, std::int32_t to, double gap) {
    const Vec3& a = vertices[static_cast<std::size_t>(from)];
    const Vec3& b = vertices[static_cast<std::size_t>(to)];
    const Vec3 d = b - a;
    const double length = d.norm();
    if (!(length > 2.0 * gap)) return {};  // nowhere on it is farther than the gap from both ends
    std::vector<std::int32_t> near;
    rim.near_line(a, b, gap, near);
    std::vector<std::pair<double, std::int32_t>> found;
    for (const std::int32_t i : near) {
        if (i == from || i == to) continue;
        const Vec3 r = vertices[static_cast<std::size_t>(i)] - a;
        const double along = r.dot(d) / length;
        if (along <= gap || along >= length - gap) continue;
        if ((r - along / length * d).squaredNorm() <= gap * gap) found.emplace_back(along, i);
    }
    std::sort(found.begin(), found.end());
    std::vector<std::int32_t> result;
    for (const auto& [along, v] : found) result.push_back(v);
    return result;
}

/// One round: an open edge of a triangle to be looked at is split where vertices of the rim lie.
///
/// @param look_at  by triangle; becomes those that were split and what came of them
std::size_t split_edges(const std::vector<Vec3>& vertices, Triangles& triangles,
                        const PointTree& tree, std::vector<bool>& look_at, double gap) {
    const std::vector<OpenEdge> edges = open_edges(triangles, vertices.size());
    const std::vector<bool> rim = on_rim(vertices.size(), triangles, edges);
    std::vector<bool> touched(triangles.size(), false);
    // Edges that lie in one line by the thousand would each be split at all the others' ends.
    const std::size_t most = 3 * triangles.size() + 100;
    std::size_t splits = 0;
    for (const OpenEdge& e : edges) {
        if (triangles.size() > most) break;
        const auto number = static_cast<std::size_t>(e.triangle);
        if (!look_at[number]) continue;
        if (touched[number]) continue;  // its second open edge comes in the next round
        const auto k = static_cast<std::size_t>(e.side);
        const auto t = triangles[number];
        const std::int32_t from = t[k], to = t[(k + 1) % 3], apex = t[(k + 2) % 3];
        std::vector<std::int32_t> on = vertices_on(vertices, tree, from, to, gap);
        on.erase(std::remove_if(on.begin(), on.end(),
                                [&](std::int32_t v) {
                                    return v == apex || !rim[static_cast<std::size_t>(v)];
                                }),
                 on.end());
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
    look_at = std::move(touched);
    look_at.resize(triangles.size(), true);
    return splits;
}

}  // namespace

StitchCounts stitch(std::vector<Vec3>& vertices, Triangles& triangles, double gap) {
    constexpr int most_rounds = 3;  // a triangle has three edges that may be open
    StitchCounts counts;
    // Joining and splitting close openings and make none: all that comes later lies on this rim.
    const PointTree tree(vertices, numbers_of(on_rim(vertices.size(), triangles,
                                                     open_edges(triangles, vertices.size()))));
    counts.joined = join_vertices(vertices, triangles, tree, gap);
    std::vector<bool> look_at(triangles.size(), true);
    for (int round = 0; round < most_rounds; ++round) {
        const std::size_t splits = split_edges(vertices, triangles, tree, look_at, gap);
        counts.split += splits;
        if (splits == 0) break;
    }
    return counts;
}

}  // namespace tearline::hull
