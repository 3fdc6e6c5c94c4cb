#pragma once
#include "core/plane/triangulate_region.h"

namespace tearline::plane {

/// The mesh without parts that hang on it by no edge and have next to no area: what is left where
/// an outline folds onto itself by less than a cutter follows.
///
/// @param largest  [mm2] a part with more stays, however it hangs
[[nodiscard]] PlaneMesh without_slivers(PlaneMesh mesh, double largest);

}  // namespace tearline::plane
