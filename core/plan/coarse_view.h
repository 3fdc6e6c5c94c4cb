#pragma once
#include "core/hull/hull.h"
#include "core/plan/plan.h"

namespace tearline::plan {

/// The whole hull with few enough triangles to draw one by one (`far_*` of a view).
///
/// Vertices in one cell of a grid become one; models that are coarse already stay as they are.
[[nodiscard]] HullView coarse_view(const hull::Hull& hull, std::size_t most_triangles = 4000);

}  // namespace tearline::plan
