#pragma once
#include <span>

#include "core/surface/surface_mesh.h"

namespace tearline::dish {

/// Volume between a surface and the points that lie `depth` under it along its normals [mm3].
///
/// @param depth  [mm] per vertex of the mesh, positive below the surface
/// @source  each triangle's prism by the area of its section at three depths (Simpson's rule is
///          exact: the section's area is quadratic in the depth)
[[nodiscard]] double volume_under(const surface::SurfaceMesh& mesh, std::span<const double> depth);

}  // namespace tearline::dish
