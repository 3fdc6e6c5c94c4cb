#pragma once
#include <optional>

#include "core/flattening/membrane_energy.h"
#include "core/surface/surface_mesh.h"

namespace tearline::flattening {

/// The vertices seen along the mean normal of the triangles, counter-clockwise as the mesh is.
///
/// @return  nothing when the mesh has no positions or its triangles face every way alike
[[nodiscard]] std::optional<Places> plane_start(const surface::SurfaceMesh& mesh);

/// The mesh inside a circle of its own area, every inner vertex in the middle of its neighbours:
/// no triangle turns over, however the surface is bent.
///
/// @return  nothing for a mesh without boundary
/// @source  Tutte, "How to draw a graph", Proc. London Math. Soc. 13 (1963); holes are closed with
///          a vertex of their own
[[nodiscard]] std::optional<Places> circle_start(const surface::SurfaceMesh& mesh, double area);

}  // namespace tearline::flattening
