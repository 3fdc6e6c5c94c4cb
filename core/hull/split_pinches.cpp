#include "core/hull/split_pinches.h"

#include <algorithm>
#include <map>

namespace tearline::hull {
namespace {

std::size_t corner_of(const std::array<std::int32_t, 3>& t, std::int32_t vertex) {
    return static_cast<std::size_t>(std::find(t.begin(), t.end(), vertex) - t.begin());
}

/// The triangles round one vertex, parted into fans joined by edges at that vertex.
std::vector<std::vector<std::int32_t>> fans(const Triangles& triangles, const Topology& topology,
                                            const std::vector<std::int32_t>& round,
                                            std::int32_t vertex) {
    std::vector<std::vector<std::int32_t>> result;
    std::vector<bool> taken(round.size(), false);  // round is in ascending order
    for (std::size_t last = round.size(); last-- > 0;) {
        if (taken[last]) continue;
        taken[last] = true;
        std::vector<std::int32_t> fan{round[last]};
        for (std::size_t i = 0; i < fan.size(); ++i) {
            const auto t = static_cast<std::size_t>(fan[i]);
            const std::size_t k = corner_of(triangles[t], vertex);
            for (const std::size_t side : {k, (k + 2) % 3}) {
                const std::int32_t across = topology.across[t][side];
                const auto next = std::lower_bound(round.begin(), round.end(), across);
                if (next == round.end() || *next != across) continue;
                const auto place = static_cast<std::size_t>(next - round.begin());
                if (taken[place]) continue;
                taken[place] = true;
                fan.push_back(across);
            }
        }
        result.push_back(std::move(fan));
    }
    return result;
}

}  // namespace

std::size_t split_pinches(std::vector<Vec3>& vertices, Triangles& triangles) {
    const Neighbours n = find_neighbours(triangles, vertices.size());
    std::vector<std::uint8_t> open_ends(vertices.size(), 0);
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        for (std::size_t k = 0; k < 3; ++k) {
            if (n.topology.across[t][k] >= 0) continue;
            for (const std::int32_t v : {triangles[t][k], triangles[t][(k + 1) % 3]}) {
                std::uint8_t& ends = open_ends[static_cast<std::size_t>(v)];
                if (ends < 255) ++ends;
            }
        }
    }
    std::map<std::int32_t, std::vector<std::int32_t>> round;  // of vertices with two fans or more
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        for (const std::int32_t v : triangles[t]) {
            if (open_ends[static_cast<std::size_t>(v)] > 2) {
                round[v].push_back(static_cast<std::int32_t>(t));
            }
        }
    }
    // An edge that three triangles share is refused later and must stay whole to be named.
    for (const CrowdedEdge& e : n.crowded) {
        round.erase(e.a);
        round.erase(e.b);
    }
    std::size_t added = 0;
    for (const auto& [vertex, members] : round) {
        const auto parts = fans(triangles, n.topology, members, vertex);
        for (std::size_t f = 1; f < parts.size(); ++f) {
            const auto copy = static_cast<std::int32_t>(vertices.size());
            vertices.push_back(vertices[static_cast<std::size_t>(vertex)]);
            for (const std::int32_t t : parts[f]) {
                auto& corners = triangles[static_cast<std::size_t>(t)];
                corners[corner_of(corners, vertex)] = copy;
            }
            ++added;
        }
    }
    return added;
}

}  // namespace tearline::hull
