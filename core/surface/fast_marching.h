#pragma once
#include <limits>
#include <vector>

#include "core/surface/surface_mesh.h"

namespace tearline::surface {

/// A vertex whose distance is known before marching.
struct KnownDistance {
    std::int32_t vertex = -1;
    double distance = 0.0;  ///< [mm]
};

/// Distance along the surface from known vertices to all others, marched outward over triangles
/// unfolded with their arc lengths; infinite where nothing leads.
///
/// First order: the front is taken as straight within a triangle, so a front of radius r loses up
/// to h^2 / 8 r a row of triangles of edge h, and distances come out long by about
/// h / 7 ln(r_end / r_start): 1.5 mm from 50 to 190 mm on 8 mm triangles. For cropping and
/// topology; edges that are cut by come from rays.
/// @param limit   [mm] marching stops there; vertices beyond keep infinity
/// @source  Kimmel and Sethian, Computing geodesic paths on manifolds, PNAS 95 (1998)
[[nodiscard]] std::vector<double> march_distance(
    const SurfaceMesh& mesh, const std::vector<KnownDistance>& known,
    double limit = std::numeric_limits<double>::infinity());

}  // namespace tearline::surface
