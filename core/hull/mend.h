#pragma once
#include <string>
#include <vector>

#include "core/hull/topology.h"

namespace tearline::hull {

/// A mesh with its flaws mended and a line for each kind that was.
struct MendedMesh {
    std::vector<Vec3> vertices;
    Triangles triangles;
    std::vector<std::string> mended;
};

/// Welds corners, drops triangles without area and repeated ones, joins edges across small gaps
/// and T-junctions, and parts the surface where it touches itself in one vertex.
///
/// @param points  [mm]
/// @param reach   [mm] points nearer than this are one
[[nodiscard]] MendedMesh mend(const std::vector<Vec3>& points, const Triangles& triangles,
                              double reach);

}  // namespace tearline::hull
