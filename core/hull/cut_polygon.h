#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/base/vec.h"
#include "core/hull/topology.h"

namespace tearline::hull {

/// Cuts a polygon of a mesh file into triangles that cover it once, in its mean plane.
///
/// A convex polygon is cut as a fan from its first corner; any other by a constrained Delaunay
/// triangulation. A polygon without area is cut as a fan too: its triangles are dropped later.
/// @param points     [any unit] of the whole file
/// @param polygon    three or more valid indices into points, in order round the polygon
/// @param triangles  the triangles are put behind those it holds
/// @return nothing, or why it cannot be cut, with the place in the file's own unit: it crosses
///         itself, or is bent out of its mean plane by a fifth of its breadth or more
/// @source  mean plane by M. E. Newell's sum of projected areas
[[nodiscard]] std::optional<std::string> cut_polygon(const std::vector<Vec3>& points,
                                                     std::span<const std::int32_t> polygon,
                                                     Triangles& triangles);

}  // namespace tearline::hull
