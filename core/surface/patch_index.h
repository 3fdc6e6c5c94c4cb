#pragma once
#include <span>
#include <vector>

#include "core/surface/patch.h"

namespace tearline::surface {

/// Buckets of triangles over the chart, for point location.
struct ChartGrid {
    Vec2 low{0, 0};
    double cell = 1.0;  ///< [mm]
    std::int32_t columns = 0, rows = 0;
    std::vector<std::int32_t> first;   ///< per cell, into `triangle`; one more than cells
    std::vector<TriangleId> triangle;  ///< by cell

    /// Those whose boxes touch the cell of a point; none outside the grid.
    [[nodiscard]] std::span<const TriangleId> near(const Vec2& p) const;
};

[[nodiscard]] ChartGrid build_chart_grid(const SurfaceMesh& mesh, const std::vector<Vec2>& chart);

/// Tree of boxes over the triangles in space, for nearest points.
struct BoxTree {
    struct Node {
        Vec3 low, high;
        std::int32_t first = 0, count = 0;  ///< triangles of a leaf; count 0: an inner node
        std::int32_t right = -1;            ///< the left child follows its parent
    };
    std::vector<Node> node;
    std::vector<std::int32_t> triangle;  ///< in leaf order
};

[[nodiscard]] BoxTree build_box_tree(const std::vector<Vec3>& position,
                                     const std::vector<std::array<std::int32_t, 3>>& triangles);

/// The flat triangle nearest to a point.
struct NearestTriangle {
    TriangleId triangle;
    Vec3 weights{1, 0, 0};
    double distance = 0.0;  ///< [mm]
};

[[nodiscard]] NearestTriangle nearest_triangle(
    const BoxTree& tree, const std::vector<Vec3>& position,
    const std::vector<std::array<std::int32_t, 3>>& triangles, const Vec3& point);

/// Barycentric weights of the point of a triangle nearest to `point`.
[[nodiscard]] Vec3 nearest_weights(const std::array<Vec3, 3>& corner, const Vec3& point);

struct Patch::Index {
    ChartGrid grid;
    BoxTree tree;
};

}  // namespace tearline::surface
