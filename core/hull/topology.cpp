#include "core/hull/topology.h"

#include <algorithm>
#include <unordered_map>

namespace tearline::hull {
namespace {

/// One side of an edge: which triangle, which of its edges, and the edge's other end.
struct HalfEdge {
    std::int32_t other;  ///< the larger vertex
    std::int32_t code;   ///< 3 triangle + edge
};

std::array<std::int32_t, 2> ends(const Triangles& triangles, std::int32_t code) {
    const auto& t = triangles[static_cast<std::size_t>(code / 3)];
    const auto k = static_cast<std::size_t>(code % 3);
    return {t[k], t[(k + 1) % 3]};
}

/// Half-edges gathered by their smaller vertex; cheaper than a hash of pairs and in fixed order.
struct Buckets {
    std::vector<std::int32_t> start;
    std::vector<HalfEdge> half_edges;
};

Buckets gather(const Triangles& triangles, std::size_t vertices) {
    Buckets b;
    b.start.assign(vertices + 1, 0);
    const auto count = static_cast<std::int32_t>(3 * triangles.size());
    for (std::int32_t code = 0; code < count; ++code) {
        const auto [from, to] = ends(triangles, code);
        ++b.start[static_cast<std::size_t>(std::min(from, to)) + 1];
    }
    for (std::size_t v = 0; v < vertices; ++v) b.start[v + 1] += b.start[v];
    b.half_edges.resize(static_cast<std::size_t>(count));
    std::vector<std::int32_t> next(b.start.begin(), b.start.end() - 1);
    for (std::int32_t code = 0; code < count; ++code) {
        const auto [from, to] = ends(triangles, code);
        auto& place = next[static_cast<std::size_t>(std::min(from, to))];
        b.half_edges[static_cast<std::size_t>(place++)] = {std::max(from, to), code};
    }
    return b;
}

}  // namespace

Neighbours find_neighbours(const Triangles& triangles, std::size_t vertices) {
    Neighbours result;
    auto& across = result.topology.across;
    across.assign(triangles.size(), {-1, -1, -1});
    Buckets b = gather(triangles, vertices);
    for (std::size_t v = 0; v < vertices; ++v) {
        const auto first = b.half_edges.begin() + b.start[v];
        const auto last = b.half_edges.begin() + b.start[v + 1];
        std::sort(first, last, [](const HalfEdge& x, const HalfEdge& y) {
            return x.other != y.other ? x.other < y.other : x.code < y.code;
        });
        for (auto i = first; i != last;) {
            auto j = i;
            while (j != last && j->other == i->other) ++j;
            if (j - i == 2) {
                const std::int32_t p = i->code, q = (i + 1)->code;
                across[static_cast<std::size_t>(p / 3)][static_cast<std::size_t>(p % 3)] = q / 3;
                across[static_cast<std::size_t>(q / 3)][static_cast<std::size_t>(q % 3)] = p / 3;
            } else if (j - i > 2) {
                result.crowded.push_back(
                    {static_cast<std::int32_t>(v), i->other, static_cast<int>(j - i)});
            }
            i = j;
        }
    }
    return result;
}

void turn_over(std::array<std::int32_t, 3>& triangle, std::array<std::int32_t, 3>& across) {
    // Corners (a, b, c) become (a, c, b): edges ab, bc, ca become ac, cb, ba.
    std::swap(triangle[1], triangle[2]);
    std::swap(across[0], across[2]);
}

Consistency make_consistent(Triangles& triangles, Topology& topology) {
    Consistency result;
    result.turned.assign(triangles.size(), false);
    topology.component.assign(triangles.size(), -1);
    std::vector<std::int32_t> members;
    for (std::size_t seed = 0; seed < triangles.size(); ++seed) {
        if (topology.component[seed] >= 0) continue;
        members.assign(1, static_cast<std::int32_t>(seed));
        topology.component[seed] = topology.components;
        std::size_t turned = 0;
        for (std::size_t m = 0; m < members.size(); ++m) {
            const auto t = static_cast<std::size_t>(members[m]);
            for (std::size_t k = 0; k < 3; ++k) {
                const std::int32_t n = topology.across[t][k];
                if (n < 0) continue;
                const auto other = static_cast<std::size_t>(n);
                const std::int32_t from = triangles[t][k], to = triangles[t][(k + 1) % 3];
                const auto& o = triangles[other];
                const bool agrees = (o[0] == to && o[1] == from) || (o[1] == to && o[2] == from) ||
                                    (o[2] == to && o[0] == from);
                if (topology.component[other] >= 0) {
                    if (!agrees && !result.twisted) result.twisted = {from, to};
                    continue;
                }
                topology.component[other] = topology.components;
                members.push_back(n);
                if (!agrees) {
                    turn_over(triangles[other], topology.across[other]);
                    result.turned[other] = true;
                    ++turned;
                }
            }
        }
        if (2 * turned > members.size()) {  // keep the majority as it came
            for (const std::int32_t m : members) {
                const auto t = static_cast<std::size_t>(m);
                turn_over(triangles[t], topology.across[t]);
                result.turned[t] = !result.turned[t];
            }
            turned = members.size() - turned;
        }
        result.turned_count += turned;
        ++topology.components;
    }
    return result;
}

std::vector<std::vector<std::int32_t>> boundary_loops(const Triangles& triangles,
                                                      const Topology& topology) {
    std::unordered_multimap<std::int32_t, std::int32_t> next;  // two ways on at a pinched vertex
    std::vector<std::int32_t> starts;
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        for (std::size_t k = 0; k < 3; ++k) {
            if (topology.across[t][k] >= 0) continue;
            starts.push_back(triangles[t][k]);
            next.emplace(triangles[t][k], triangles[t][(k + 1) % 3]);
        }
    }
    std::vector<std::vector<std::int32_t>> loops;
    for (const std::int32_t start : starts) {
        std::vector<std::int32_t> loop;
        std::int32_t at = start;
        for (auto found = next.find(at); found != next.end(); found = next.find(at)) {
            loop.push_back(at);
            at = found->second;
            next.erase(found);
        }
        if (!loop.empty()) loops.push_back(std::move(loop));
    }
    return loops;
}

double loop_length(const std::vector<Vec3>& vertices, const std::vector<std::int32_t>& loop) {
    double length = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const auto a = static_cast<std::size_t>(loop[i]);
        const auto b = static_cast<std::size_t>(loop[(i + 1) % loop.size()]);
        length += (vertices[a] - vertices[b]).norm();
    }
    return length;
}

}  // namespace tearline::hull
