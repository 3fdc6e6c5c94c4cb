#include "core/hull/drop_repeated.h"

#include <algorithm>
#include <cstdint>
#include <unordered_set>

namespace tearline::hull {
namespace {

std::array<std::int32_t, 3> sorted(std::array<std::int32_t, 3> t) {
    std::sort(t.begin(), t.end());
    return t;
}

/// Whether two triangles of the same corners are turned the same way.
bool same_turn(const std::array<std::int32_t, 3>& a, const std::array<std::int32_t, 3>& b) {
    const auto k = static_cast<std::size_t>(std::find(b.begin(), b.end(), a[0]) - b.begin());
    return b[(k + 1) % 3] == a[1];
}

/// Set of triangles by their corners, whatever the order.
class SeenTriangles {
public:
    explicit SeenTriangles(std::size_t count) {
        std::size_t size = 16;
        while (size < 2 * count) size *= 2;
        slots_.assign(size, -1);
    }

    /// The number of the triangle with these corners: `number` itself when it is new.
    std::size_t find_or_insert(const Triangles& all, std::size_t number) {
        const std::array<std::int32_t, 3> key = sorted(all[number]);
        std::uint64_t h = 0;
        for (const std::int32_t v : key) {
            h = (h ^ static_cast<std::uint32_t>(v)) * 0x9E3779B97F4A7C15ull;
            h ^= h >> 31;
        }
        const std::size_t mask = slots_.size() - 1;
        for (std::size_t i = h & mask;; i = (i + 1) & mask) {
            if (slots_[i] < 0) {
                slots_[i] = static_cast<std::int32_t>(number);
                return number;
            }
            const auto known = static_cast<std::size_t>(slots_[i]);
            if (sorted(all[known]) == key) return known;
        }
    }

private:
    std::vector<std::int32_t> slots_;
};

std::uint64_t key_of(std::int32_t a, std::int32_t b) {
    return (std::uint64_t{static_cast<std::uint32_t>(std::min(a, b))} << 32) |
           static_cast<std::uint32_t>(std::max(a, b));
}

/// Folded triangles on crowded edges, and the folded ones that hang on them.
std::vector<bool> folds_to_drop(const Triangles& triangles, const std::vector<bool>& folded,
                                std::size_t vertices) {
    std::vector<bool> drop(triangles.size(), false);
    if (std::find(folded.begin(), folded.end(), true) == folded.end()) return drop;
    const Neighbours n = find_neighbours(triangles, vertices);
    std::unordered_set<std::uint64_t> crowded;
    for (const CrowdedEdge& edge : n.crowded) crowded.insert(key_of(edge.a, edge.b));
    std::vector<std::size_t> open;
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        const auto& v = triangles[t];
        if (!folded[t] || !(crowded.count(key_of(v[0], v[1])) ||
                            crowded.count(key_of(v[1], v[2])) || crowded.count(key_of(v[2], v[0]))))
            continue;
        drop[t] = true;
        open.push_back(t);
    }
    while (!open.empty()) {
        const std::size_t t = open.back();
        open.pop_back();
        for (const std::int32_t next : n.topology.across[t]) {
            const auto o = static_cast<std::size_t>(next);
            if (next < 0 || !folded[o] || drop[o]) continue;
            drop[o] = true;
            open.push_back(o);
        }
    }
    return drop;
}

}  // namespace

RepeatCounts drop_repeated(Triangles& triangles, std::size_t vertices) {
    RepeatCounts counts;
    SeenTriangles seen(triangles.size());
    std::vector<bool> folded;
    folded.reserve(triangles.size());
    std::size_t kept = 0;
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        triangles[kept] = triangles[t];
        const std::size_t known = seen.find_or_insert(triangles, kept);
        if (known == kept) {
            folded.push_back(false);
            ++kept;
            continue;
        }
        folded[known] = folded[known] != !same_turn(triangles[known], triangles[t]);
        ++counts.repeated;
    }
    triangles.resize(kept);
    const std::vector<bool> drop = folds_to_drop(triangles, folded, vertices);
    kept = 0;
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        if (!drop[t]) triangles[kept++] = triangles[t];
    }
    const std::size_t gone = triangles.size() - kept;
    triangles.resize(kept);
    counts.repeated -= gone;
    counts.folded = 2 * gone;
    return counts;
}

}  // namespace tearline::hull
