#pragma once
#include <array>
#include <vector>

#include "core/base/vec.h"

namespace tearline::test {

/// Points in rows, as many in each.
struct PointRows {
    std::vector<Vec3> points;
    std::size_t across = 0;  ///< in a row
};

/// The triangles with which CGAL fills a hole in the mesh of some rows of points, refined and fair.
///
/// @param missing     per point: whether it is in the hole
/// @param continuity  1: tangents go on over the rim; 2: curvatures, too
/// @source  Liepa, Filling holes in meshes (2003); Botsch and Kobbelt (2004) for the fairing
[[nodiscard]] std::vector<std::array<Vec3, 3>> cgal_filled(const PointRows& rows,
                                                           const std::vector<bool>& missing,
                                                           unsigned continuity);

/// The points moved on to the quadric through the nearest of each.
/// @source  Cazals and Pouget, Estimating differential quantities using polynomial fitting (2005)
[[nodiscard]] std::vector<Vec3> cgal_jet_smoothed(const std::vector<Vec3>& points,
                                                  unsigned neighbours);

}  // namespace tearline::test
