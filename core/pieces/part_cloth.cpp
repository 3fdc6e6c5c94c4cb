#include "core/pieces/part_cloth.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <queue>

#include "core/base/tolerances.h"
#include "core/plane/nearest_on_line.h"
#include "core/surface/curved_area.h"

namespace tearline::pieces {

namespace {

using Marks = std::vector<std::array<bool, 3>>;

/// Sets of corners that are one vertex.
class Joined {
public:
    explicit Joined(std::size_t count) : parent_(count) {
        std::iota(parent_.begin(), parent_.end(), std::size_t{0});
    }
    std::size_t root(std::size_t i) {
        while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
        return i;
    }
    void join(std::size_t a, std::size_t b) {
        const std::size_t x = root(a), y = root(b);
        parent_[std::max(x, y)] = std::min(x, y);
    }

private:
    std::vector<std::size_t> parent_;
};

/// Corner of a triangle that is a given vertex.
int corner_of(const std::array<std::int32_t, 3>& triangle, std::int32_t vertex) {
    for (int i = 0; i < 3; ++i)
        if (triangle[i] == vertex) return i;
    return -1;
}

void mark_both(Marks& marks, const plies::LaySurface& lay,
               const std::vector<std::array<std::int32_t, 3>>& across, std::size_t t, int i) {
    marks[t][i] = true;
    const std::int32_t n = across[t][i];
    if (n < 0) return;
    marks[static_cast<std::size_t>(n)][corner_of(lay.mesh.triangle[static_cast<std::size_t>(n)],
                                                 lay.mesh.triangle[t][(i + 1) % 3])] = true;
}

/// A lay surface of some triangles, its vertices renumbered; what they were is kept in `from`.
PartedSurface with_vertices(const plies::LaySurface& lay, std::span<const std::size_t> triangles,
                            std::span<const std::size_t> vertex_of_corner) {
    PartedSurface out;
    std::vector<std::int32_t> number(3 * lay.mesh.triangle.size(), -1);
    for (const std::size_t t : triangles) {
        std::array<std::int32_t, 3> corners;
        for (std::size_t i = 0; i < 3; ++i) {
            std::int32_t& id = number[vertex_of_corner[3 * t + i]];
            if (id < 0) {
                id = static_cast<std::int32_t>(out.from.size());
                const std::int32_t v = lay.mesh.triangle[t][i];
                out.from.push_back(v);
                out.lay.mesh.position.push_back(lay.mesh.position[v]);
                out.lay.base.push_back(lay.base[v]);
                out.lay.chart.push_back(lay.chart[v]);
            }
            corners[i] = id;
        }
        out.lay.mesh.triangle.push_back(corners);
        out.lay.mesh.corner_normal.push_back(lay.mesh.corner_normal[t]);
        out.lay.mesh.edge_length.push_back(lay.mesh.edge_length[t]);
        if (!lay.corner_chart.empty()) out.lay.corner_chart.push_back(lay.corner_chart[t]);
        if (!lay.crease.empty()) out.lay.crease.push_back(lay.crease[t]);
    }
    out.lay.area = surface::curved_area(out.lay.mesh);
    return out;
}

std::vector<std::size_t> vertices_of_corners(const plies::LaySurface& lay, const Marks& parted) {
    const auto across = surface::neighbours(lay.mesh);
    Joined joined(3 * lay.mesh.triangle.size());
    for (std::size_t t = 0; t < across.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t n = across[t][i];
            if (n < 0 || parted[t][i]) continue;
            const auto other = static_cast<std::size_t>(n);
            for (const int end : {i, (i + 1) % 3})
                joined.join(3 * t + static_cast<std::size_t>(end),
                            3 * other + static_cast<std::size_t>(corner_of(
                                            lay.mesh.triangle[other], lay.mesh.triangle[t][end])));
        }
    std::vector<std::size_t> vertex(3 * lay.mesh.triangle.size());
    for (std::size_t c = 0; c < vertex.size(); ++c) vertex[c] = joined.root(c);
    return vertex;
}

}  // namespace

PartedSurface part_along(const plies::LaySurface& lay, Marks parted) {
    std::vector<std::size_t> all(lay.mesh.triangle.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    PartedSurface out = with_vertices(lay, all, vertices_of_corners(lay, parted));
    out.lay.area = lay.area;
    out.lay.warnings = lay.warnings;
    return out;
}

Marks edges_on(const plies::LaySurface& lay, std::span<const Vec2> line) {
    const auto across = surface::neighbours(lay.mesh);
    std::vector<bool> on(lay.chart.size());
    for (std::size_t v = 0; v < on.size(); ++v)
        on[v] = plane::distance_to_line(line, lay.chart[v]) <= tolerance::on_chart_line;
    Marks marks(lay.mesh.triangle.size(), {false, false, false});
    for (std::size_t t = 0; t < marks.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t a = lay.mesh.triangle[t][i], b = lay.mesh.triangle[t][(i + 1) % 3];
            if (across[t][i] < 0 || !on[a] || !on[b]) continue;
            const Vec2 middle = 0.5 * (lay.chart[a] + lay.chart[b]);
            if (plane::distance_to_line(line, middle) <= tolerance::on_chart_line)
                mark_both(marks, lay, across, t, i);
        }
    return marks;
}

Marks edges_near(const plies::LaySurface& lay, const Vec2& mouth, const Vec2& tip) {
    const auto across = surface::neighbours(lay.mesh);
    const std::size_t count = lay.chart.size();
    struct Way {
        std::size_t triangle;
        int corner;
        std::int32_t to;
    };
    std::vector<std::vector<Way>> ways(count);
    std::vector<bool> rim(count, false);
    for (std::size_t t = 0; t < across.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t a = lay.mesh.triangle[t][i], b = lay.mesh.triangle[t][(i + 1) % 3];
            if (across[t][i] < 0) rim[a] = rim[b] = true;
            ways[a].push_back({t, i, b});
            ways[b].push_back({t, i, a});
        }
    const auto nearest = [&](const Vec2& p, bool on_rim) {
        std::int32_t best = -1;
        for (std::size_t v = 0; v < count; ++v)
            if (rim[v] == on_rim && (best < 0 || (lay.chart[v] - p).squaredNorm() <
                                                     (lay.chart[best] - p).squaredNorm()))
                best = static_cast<std::int32_t>(v);
        return best;
    };
    Marks marks(across.size(), {false, false, false});
    const std::int32_t from = nearest(mouth, true), to = nearest(tip, false);
    if (from < 0 || to < 0) return marks;
    // Shortest way, edges the dearer the farther they lie off the stroke.
    const std::array<Vec2, 2> stroke{mouth, tip};
    const double length = std::max((tip - mouth).norm(), tolerance::chart_merge);
    std::vector<double> cost(count, std::numeric_limits<double>::infinity());
    std::vector<Way> back(count, Way{0, 0, -1});
    std::priority_queue<std::pair<double, std::int32_t>,
                        std::vector<std::pair<double, std::int32_t>>, std::greater<>>
        open;
    cost[from] = 0.0;
    open.emplace(0.0, from);
    while (!open.empty()) {
        const auto [here, v] = open.top();
        open.pop();
        if (v == to) break;
        if (here > cost[v]) continue;
        for (const Way& way : ways[v]) {
            if (rim[way.to]) continue;
            const double off = plane::distance_to_line(stroke, lay.chart[way.to]) / length;
            const double next =
                here + (lay.chart[way.to] - lay.chart[v]).norm() * (1.0 + 20.0 * off);
            if (!(next < cost[way.to])) continue;
            cost[way.to] = next;
            back[way.to] = {way.triangle, way.corner, v};
            open.emplace(next, way.to);
        }
    }
    for (std::int32_t v = to; back[v].to >= 0; v = back[v].to)
        mark_both(marks, lay, across, back[v].triangle, back[v].corner);
    return marks;
}

std::vector<SurfacePart> parts_of(const plies::LaySurface& lay,
                                  std::span<const std::int32_t> group) {
    const auto across = surface::neighbours(lay.mesh);
    Marks parted(across.size(), {false, false, false});
    for (std::size_t t = 0; t < across.size(); ++t)
        for (int i = 0; i < 3; ++i)
            parted[t][i] = across[t][i] >= 0 && group[across[t][i]] != group[t];
    const std::vector<std::size_t> vertex = vertices_of_corners(lay, parted);
    std::vector<bool> seen(across.size(), false);
    std::vector<SurfacePart> parts;
    for (std::size_t start = 0; start < across.size(); ++start) {
        if (seen[start]) continue;
        std::vector<std::size_t> members{start};
        seen[start] = true;
        for (std::size_t i = 0; i < members.size(); ++i)
            for (int k = 0; k < 3; ++k) {
                const std::int32_t n = across[members[i]][k];
                if (n < 0 || parted[members[i]][k] || seen[n]) continue;
                seen[n] = true;
                members.push_back(static_cast<std::size_t>(n));
            }
        std::sort(members.begin(), members.end());
        parts.push_back({with_vertices(lay, members, vertex).lay, group[start]});
    }
    return parts;
}

}  // namespace tearline::pieces
