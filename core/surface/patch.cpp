#include "core/surface/patch.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <unordered_map>
#include <unordered_set>

#include "core/base/tolerances.h"
#include "core/surface/patch_index.h"
#include "core/surface/surface_behind.h"

namespace tearline::surface {
namespace {

Region2 chart_domain(const SurfaceMesh& mesh, const std::vector<Vec2>& chart) {
    Region2 domain;
    double widest = 0.0;
    std::vector<Loop2> loops;
    std::size_t outer = 0;
    for (const auto& loop : boundary_loops(mesh)) {
        Loop2 points;
        points.reserve(loop.size());
        for (const std::int32_t v : loop) points.push_back(chart[v]);
        const double a = signed_area(points);
        if (a > widest) {
            widest = a;
            outer = loops.size();
        }
        loops.push_back(std::move(points));
    }
    for (std::size_t i = 0; i < loops.size(); ++i) {
        if (i == outer)
            domain.outer = std::move(loops[i]);
        else
            domain.holes.push_back(std::move(loops[i]));
    }
    return domain;
}

/// Chains crease edges into polylines that end where other than two creases meet.
std::vector<std::vector<std::int32_t>> chain_creases(const Patch& patch) {
    std::unordered_map<std::int32_t, std::vector<std::int32_t>> links;
    std::vector<std::int32_t> order;
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t n = patch.neighbour[t][i];
            if (!patch.crease[t][i] || n < static_cast<std::int32_t>(t)) continue;
            const std::int32_t a = patch.mesh.triangle[t][i];
            const std::int32_t b = patch.mesh.triangle[t][(i + 1) % 3];
            for (const std::int32_t v : {a, b})
                if (links[v].empty()) order.push_back(v);
            links[a].push_back(b);
            links[b].push_back(a);
        }
    std::unordered_set<std::int32_t> line_ends;
    for (const std::int32_t v : order)
        if (links[v].size() != 2) line_ends.insert(v);
    std::vector<std::vector<std::int32_t>> lines;
    const auto unlink = [&](std::int32_t from, std::int32_t to) {
        auto& out = links[from];
        out.erase(std::find(out.begin(), out.end(), to));
    };
    const auto follow = [&](std::int32_t start) {
        std::vector<std::int32_t> line{start};
        std::int32_t v = start;
        do {
            const std::int32_t next = links[v].front();
            unlink(v, next);
            unlink(next, v);
            line.push_back(next);
            v = next;
        } while (!line_ends.contains(v) && !links[v].empty());
        lines.push_back(std::move(line));
    };
    for (const std::int32_t v : order)
        if (line_ends.contains(v))
            while (!links[v].empty()) follow(v);
    for (const std::int32_t v : order)
        while (!links[v].empty()) follow(v);  // what is left is closed
    return lines;
}

}  // namespace

void finish_patch(Patch& patch) {
    const std::size_t count = patch.mesh.triangle.size();
    if (patch.chart.size() != patch.mesh.position.size() ||
        patch.mesh.corner_normal.size() != count)
        throw std::logic_error("finish_patch: chart or corner normals missing");
    if (patch.mesh.edge_length.size() != count) set_arc_lengths(patch.mesh);
    patch.neighbour = neighbours(patch.mesh);
    patch.crease.resize(count, {false, false, false});
    patch.hull_end.resize(count, {false, false, false});
    patch.domain_ = chart_domain(patch.mesh, patch.chart);
    patch.crease_lines_ = chain_creases(patch);
    auto index = std::make_shared<Patch::Index>();
    index->grid = build_chart_grid(patch.mesh, patch.chart);
    index->tree = build_box_tree(patch.mesh.position, patch.mesh.triangle);
    patch.index = std::move(index);
}

SurfaceSample Patch::sample(const Location& at) const {
    return behind->at(mesh, at);
}

std::optional<Location> Patch::locate(const Vec2& chart_point) const {
    const ChartGrid& grid = index->grid;
    const Vec2 q = (chart_point - grid.low) / grid.cell;
    if (!(q.x() >= -1.0 && q.y() >= -1.0 && q.x() <= grid.columns + 1.0 &&
          q.y() <= grid.rows + 1.0))
        return std::nullopt;
    const auto c = std::clamp(static_cast<std::int32_t>(q.x()), 0, grid.columns - 1);
    const auto r = std::clamp(static_cast<std::int32_t>(q.y()), 0, grid.rows - 1);
    const std::size_t cell = static_cast<std::size_t>(r) * grid.columns + c;
    Location best;
    double best_least = -tolerance::barycentric_slack;
    for (std::int32_t k = grid.first[cell]; k < grid.first[cell + 1]; ++k) {
        const TriangleId t = grid.triangle[k];
        const auto& v = mesh.triangle[t.index()];
        const Vec2 a = chart[v[0]] - chart_point;
        const Vec2 b = chart[v[1]] - chart_point;
        const Vec2 d = chart[v[2]] - chart_point;
        const Vec3 w(cross2(b, d), cross2(d, a), cross2(a, b));
        const double sum = w.sum();
        if (!(sum > 0.0)) continue;
        const double least = w.minCoeff() / sum;
        if (least > best_least) {
            best_least = least;
            best = {t, w / sum};
            if (least > 0.0) break;
        }
    }
    if (!best.triangle.valid()) return std::nullopt;
    if (best_least < 0.0) {
        best.weights = best.weights.cwiseMax(0.0);
        best.weights /= best.weights.sum();
    }
    return best;
}

Patch::Nearest Patch::nearest(const Vec3& point) const {
    const NearestTriangle found =
        nearest_triangle(index->tree, mesh.position, mesh.triangle, point);
    return {{found.triangle, found.weights}, found.distance};
}

Vec2 Patch::chart_point(const Location& at) const {
    const auto& v = mesh.triangle[at.triangle.index()];
    return at.weights[0] * chart[v[0]] + at.weights[1] * chart[v[1]] + at.weights[2] * chart[v[2]];
}

}  // namespace tearline::surface
