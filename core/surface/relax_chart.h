#pragma once
#include <vector>

#include "core/surface/surface_mesh.h"

namespace tearline::surface {

/// Brings a chart that folds nothing nearer to the lengths of its mesh without folding anything:
/// steps down the symmetric Dirichlet energy, which grows without bound both where a triangle is
/// stretched and where it is squeezed. Slower than make_chart(), and goes on where that is stuck:
/// at a start that is nothing like isometric. It ends before the rim would cross itself.
///
/// @pre mesh has one rim
/// @param chart  [mm] per vertex, every triangle counter-clockwise
/// @source  Smith and Schaefer, Bijective parameterization with free boundaries (2015); steps
///          preconditioned by the Laplacian as in Kovalsky et al., Accelerated quadratic proxy
///          (2016)
[[nodiscard]] std::vector<Vec2> relax_chart(const SurfaceMesh& mesh, std::vector<Vec2> chart);

}  // namespace tearline::surface
