#pragma once
#include "core/surface/surface_mesh.h"

namespace tearline::surface {

/// Area of the curved surface that an intrinsic mesh stands for [mm2].
///
/// Each flat triangle of arcs a, b, c is too small on a bulge by 1 + K (a^2 + b^2 + c^2)/24; K
/// comes from the angles that are missing round the inner vertices, so that a facet's bend counts
/// once. Along a crease that is curved (a tube's foot) they are missing on the crease alone: there
/// a side is too small, or too large, by the segment on each chord, angle c^2/12.
/// @source  geodesic triangles, second order in edge length (derived from L'Huilier's formula)
[[nodiscard]] double curved_area(const SurfaceMesh& mesh);

}  // namespace tearline::surface
