#pragma once
#include "core/hull/hull.h"

namespace tearline::hull {

/// Fills the smallest convex (bulging outward) and concave radii of the report with their places.
///
/// From the curvature of the CAD faces at corners and middles of the mesh's triangles; of a mesh,
/// where the figures are estimates (half to double between the slivers of an exporter), from the
/// normals at both ends of each edge. Sharp edges have no radius.
void find_smallest_radii(Hull& hull);

}  // namespace tearline::hull
