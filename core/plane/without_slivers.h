#pragma once
#include "core/plane/triangulate_region.h"

namespace tearline::plane {

/// The mesh without parts that hang on it by no edge and have next to no area: what is left where
/// an outline folds onto itself by less than a cutter follows.
///
/// @param largest  [mm2] a part with more stays, however it hangs
[[nodiscard]] PlaneMesh without_slivers(PlaneMesh mesh, double largest);

/// The mesh of the triangles that are kept; what they bordered on becomes its outline.
///
/// @param keep  per triangle
[[nodiscard]] PlaneMesh kept_triangles(const PlaneMesh& mesh, const std::vector<bool>& keep);

}  // namespace tearline::plane
