#pragma once
#include <array>
#include <vector>

#include "core/base/outline.h"

namespace tearline::plane {

/// What an edge of a plane mesh stands for.
enum class EdgeKind : unsigned char { free, outline, crease, kink };

/// Points and edges that a triangulation must keep.
struct Skeleton {
    struct Edge {
        std::int32_t a, b;
        EdgeKind kind;
    };
    std::vector<Vec2> points;
    std::vector<Edge> edges;
};

/// Plane triangles, counter-clockwise, with their neighbours and kept edges.
struct PlaneMesh {
    std::vector<Vec2> points;
    std::size_t fixed = 0;  ///< the first so many points lie on kept edges
    std::vector<std::array<std::int32_t, 3>> triangle;
    std::vector<std::array<std::int32_t, 3>> neighbour;  ///< across edge i -> i+1, -1 outside
    std::vector<std::array<EdgeKind, 3>> kind;           ///< of edge i -> i+1
};

/// The constrained Delaunay triangulation of a skeleton and free points, inside its outline edges.
///
/// Where kept edges cross, a point is added at the crossing (among the fixed ones).
[[nodiscard]] PlaneMesh triangulate_region(const Skeleton& skeleton, const std::vector<Vec2>& free,
                                           const Region2& region);

}  // namespace tearline::plane
