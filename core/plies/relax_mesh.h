#pragma once
#include "core/plane/triangulate_region.h"

namespace tearline::plies {

/// Evens out a plane mesh: free points move to the middle of their neighbours and edges are
/// flipped back to Delaunay, `sweeps` times. Kept edges and the points on them stay.
void relax_mesh(plane::PlaneMesh& mesh, int sweeps);

}  // namespace tearline::plies
