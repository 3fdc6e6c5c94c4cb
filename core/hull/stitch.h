#pragma once
#include "core/hull/topology.h"

namespace tearline::hull {

struct StitchCounts {
    std::size_t joined = 0;  ///< boundary vertices made one with another
    std::size_t split = 0;   ///< boundary edges split at a vertex that lies on them
};

/// Joins open edges that lie within `gap` [mm] of each other: vertex to vertex, then vertex to the
/// inside of an edge. Vertices that one edge connects are never joined.
StitchCounts stitch(std::vector<Vec3>& vertices, Triangles& triangles, double gap);

}  // namespace tearline::hull
