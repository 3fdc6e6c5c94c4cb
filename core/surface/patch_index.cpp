#include "core/surface/patch_index.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace tearline::surface {

ChartGrid build_chart_grid(const SurfaceMesh& mesh, const std::vector<Vec2>& chart) {
    ChartGrid grid;
    if (mesh.triangle.empty()) return grid;
    Vec2 low = chart[mesh.triangle[0][0]];
    Vec2 high = low;
    double area = 0.0;
    for (const auto& t : mesh.triangle) {
        for (const std::int32_t v : t) {
            low = low.cwiseMin(chart[v]);
            high = high.cwiseMax(chart[v]);
        }
        area += 0.5 * std::abs(cross2(chart[t[1]] - chart[t[0]], chart[t[2]] - chart[t[0]]));
    }
    const double extent = std::max((high - low).maxCoeff(), std::numeric_limits<double>::min());
    grid.low = low;
    grid.cell = std::max(std::sqrt(2.0 * area / static_cast<double>(mesh.triangle.size())),
                         extent / 2000.0);
    grid.columns = static_cast<std::int32_t>((high.x() - low.x()) / grid.cell) + 1;
    grid.rows = static_cast<std::int32_t>((high.y() - low.y()) / grid.cell) + 1;

    struct Cells {
        std::int32_t column, row, column_end, row_end;
    };
    std::vector<Cells> cells_under;
    cells_under.reserve(mesh.triangle.size());
    for (const auto& v : mesh.triangle) {
        const Vec2 a = (chart[v[0]].cwiseMin(chart[v[1]]).cwiseMin(chart[v[2]]) - low) / grid.cell;
        const Vec2 b = (chart[v[0]].cwiseMax(chart[v[1]]).cwiseMax(chart[v[2]]) - low) / grid.cell;
        cells_under.push_back({static_cast<std::int32_t>(a.x()), static_cast<std::int32_t>(a.y()),
                               static_cast<std::int32_t>(b.x()), static_cast<std::int32_t>(b.y())});
    }
    const auto cells_of = [&](std::size_t t, auto&& visit) {
        const Cells& under = cells_under[t];
        for (std::int32_t r = under.row; r <= under.row_end; ++r)
            for (std::int32_t c = under.column; c <= under.column_end; ++c)
                visit(static_cast<std::size_t>(r) * grid.columns + c);
    };
    const std::size_t cells = static_cast<std::size_t>(grid.columns) * grid.rows;
    grid.first.assign(cells + 1, 0);
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        cells_of(t, [&](std::size_t c) { ++grid.first[c + 1]; });
    std::partial_sum(grid.first.begin(), grid.first.end(), grid.first.begin());
    grid.triangle.resize(grid.first.back());
    std::vector<std::int32_t> fill(grid.first.begin(), grid.first.end() - 1);
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        cells_of(t, [&](std::size_t c) { grid.triangle[fill[c]++] = TriangleId(t); });
    return grid;
}

std::span<const TriangleId> ChartGrid::near(const Vec2& p) const {
    const double column = std::floor((p.x() - low.x()) / cell);
    const double row = std::floor((p.y() - low.y()) / cell);
    if (!(column >= 0.0 && column < columns && row >= 0.0 && row < rows)) return {};
    const auto at = static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
                    static_cast<std::size_t>(column);
    return {triangle.begin() + first[at], triangle.begin() + first[at + 1]};
}

namespace {

constexpr std::int32_t leaf_size = 4;

struct TreeBuilder {
    BoxTree tree;
    const std::vector<Vec3>& position;
    const std::vector<std::array<std::int32_t, 3>>& triangles;
    std::vector<Vec3> centre;

    void box(BoxTree::Node& node, std::int32_t first, std::int32_t last) const {
        node.low.setConstant(std::numeric_limits<double>::infinity());
        node.high = -node.low;
        for (std::int32_t i = first; i < last; ++i)
            for (const std::int32_t v : triangles[tree.triangle[i]]) {
                node.low = node.low.cwiseMin(position[v]);
                node.high = node.high.cwiseMax(position[v]);
            }
    }

    void build(std::int32_t first, std::int32_t last) {
        const auto here = static_cast<std::int32_t>(tree.node.size());
        tree.node.emplace_back();
        box(tree.node[here], first, last);
        if (last - first <= leaf_size) {
            tree.node[here].first = first;
            tree.node[here].count = last - first;
            return;
        }
        Eigen::Index axis = 0;
        (tree.node[here].high - tree.node[here].low).maxCoeff(&axis);
        const std::int32_t middle = first + (last - first) / 2;
        std::nth_element(tree.triangle.begin() + first, tree.triangle.begin() + middle,
                         tree.triangle.begin() + last, [&](std::int32_t a, std::int32_t b) {
                             const double ca = centre[a][axis];
                             const double cb = centre[b][axis];
                             return ca != cb ? ca < cb : a < b;  // ties: the same tree every run
                         });
        build(first, middle);
        tree.node[here].right = static_cast<std::int32_t>(tree.node.size());
        build(middle, last);
    }
};

double box_distance2(const BoxTree::Node& node, const Vec3& p) {
    return (node.low - p).cwiseMax(p - node.high).cwiseMax(Vec3::Zero()).squaredNorm();
}

}  // namespace

BoxTree build_box_tree(const std::vector<Vec3>& position,
                       const std::vector<std::array<std::int32_t, 3>>& triangles) {
    TreeBuilder builder{{}, position, triangles, {}};
    builder.tree.triangle.resize(triangles.size());
    std::iota(builder.tree.triangle.begin(), builder.tree.triangle.end(), 0);
    builder.centre.reserve(triangles.size());
    for (const auto& t : triangles)
        builder.centre.push_back(position[t[0]] + position[t[1]] + position[t[2]]);
    builder.tree.node.reserve(triangles.size());
    if (!triangles.empty()) builder.build(0, static_cast<std::int32_t>(triangles.size()));
    return std::move(builder.tree);
}

// Region by region round the triangle (Ericson, Real-Time Collision Detection, 5.1.5).
Vec3 nearest_weights(const std::array<Vec3, 3>& corner, const Vec3& point) {
    const Vec3 ab = corner[1] - corner[0];
    const Vec3 ac = corner[2] - corner[0];
    const Vec3 ap = point - corner[0];
    const double d1 = ab.dot(ap);
    const double d2 = ac.dot(ap);
    if (d1 <= 0.0 && d2 <= 0.0) return {1, 0, 0};
    const Vec3 bp = point - corner[1];
    const double d3 = ab.dot(bp);
    const double d4 = ac.dot(bp);
    if (d3 >= 0.0 && d4 <= d3) return {0, 1, 0};
    const double vc = d1 * d4 - d3 * d2;
    if (vc <= 0.0 && d1 >= 0.0 && d3 <= 0.0) {
        const double v = d1 / (d1 - d3);
        return {1.0 - v, v, 0};
    }
    const Vec3 cp = point - corner[2];
    const double d5 = ab.dot(cp);
    const double d6 = ac.dot(cp);
    if (d6 >= 0.0 && d5 <= d6) return {0, 0, 1};
    const double vb = d5 * d2 - d1 * d6;
    if (vb <= 0.0 && d2 >= 0.0 && d6 <= 0.0) {
        const double w = d2 / (d2 - d6);
        return {1.0 - w, 0, w};
    }
    const double va = d3 * d6 - d5 * d4;
    if (va <= 0.0 && d4 - d3 >= 0.0 && d5 - d6 >= 0.0) {
        const double w = (d4 - d3) / ((d4 - d3) + (d5 - d6));
        return {0, 1.0 - w, w};
    }
    const double sum = va + vb + vc;
    if (!(sum > 0.0)) return {1, 0, 0};
    return {va / sum, vb / sum, vc / sum};
}

NearestTriangle nearest_triangle(const BoxTree& tree, const std::vector<Vec3>& position,
                                 const std::vector<std::array<std::int32_t, 3>>& triangles,
                                 const Vec3& point) {
    NearestTriangle best;
    double best2 = std::numeric_limits<double>::infinity();
    if (tree.node.empty()) return best;
    std::array<std::int32_t, 64> stack{};
    int depth = 0;
    stack[depth++] = 0;
    while (depth > 0) {
        const std::int32_t here = stack[--depth];
        const BoxTree::Node& node = tree.node[here];
        if (box_distance2(node, point) >= best2) continue;
        if (node.count == 0) {
            const std::int32_t left = here + 1;
            const bool left_first = box_distance2(tree.node[left], point) <=
                                    box_distance2(tree.node[node.right], point);
            stack[depth++] = left_first ? node.right : left;
            stack[depth++] = left_first ? left : node.right;
            continue;
        }
        for (std::int32_t i = node.first; i < node.first + node.count; ++i) {
            const auto& t = triangles[tree.triangle[i]];
            const Vec3 w = nearest_weights({position[t[0]], position[t[1]], position[t[2]]}, point);
            const Vec3 q = w[0] * position[t[0]] + w[1] * position[t[1]] + w[2] * position[t[2]];
            const double d2 = (point - q).squaredNorm();
            if (d2 < best2) {
                best2 = d2;
                best.triangle = TriangleId(tree.triangle[i]);
                best.weights = w;
            }
        }
    }
    best.distance = std::sqrt(best2);
    return best;
}

}  // namespace tearline::surface
