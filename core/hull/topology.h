#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "core/base/vec.h"

namespace tearline::hull {

using Triangles = std::vector<std::array<std::int32_t, 3>>;

/// How triangles hang together.
struct Topology {
    std::vector<std::array<std::int32_t, 3>> across;  ///< triangle beyond edge i -> i+1, or -1
    std::vector<std::int32_t> component;              ///< per triangle, from 0
    std::int32_t components = 0;
};

/// An edge that more than two triangles share.
struct CrowdedEdge {
    std::int32_t a = -1, b = -1;
    int triangles = 0;
};

/// Neighbours of each triangle, however they are turned.
///
/// @return  `across` alone is filled; where more than two triangles meet, `crowded` names the
///          first such edge and its triangles are left without neighbours there
struct Neighbours {
    Topology topology;
    std::vector<CrowdedEdge> crowded;
};
[[nodiscard]] Neighbours find_neighbours(const Triangles& triangles, std::size_t vertices);

/// Turns triangles so that neighbours agree, the majority of each component as it was, and numbers
/// the components.
struct Consistency {
    std::vector<bool> turned;  ///< per triangle
    std::size_t turned_count = 0;
    std::optional<std::array<std::int32_t, 2>> twisted;  ///< an edge where none can agree
};
[[nodiscard]] Consistency make_consistent(Triangles& triangles, Topology& topology);

/// Swaps two corners of a triangle in place and of its neighbours' record.
void turn_over(std::array<std::int32_t, 3>& triangle, std::array<std::int32_t, 3>& across);

/// Boundary loops as vertices, the surface on the left; of consistently turned triangles.
[[nodiscard]] std::vector<std::vector<std::int32_t>> boundary_loops(const Triangles& triangles,
                                                                    const Topology& topology);

/// Length of a closed polyline of vertices [mm].
[[nodiscard]] double loop_length(const std::vector<Vec3>& vertices,
                                 const std::vector<std::int32_t>& loop);

}  // namespace tearline::hull
