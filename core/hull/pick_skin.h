#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/hull/orient.h"

namespace tearline::hull {

/// Where a model holds the outer and the inner face of its skin, keeps the one the glass is laid
/// on, facing out of the boat.
///
/// Two skins are seen as two nested parts of like size, or as one closed part that is thin for
/// its size, whose triangles are sorted by whether they face away from the boat's middle.
/// @return  whether triangles were taken away: the topology must be found again
/// @error bad_input  a thin closed model whose skins cannot be told apart
[[nodiscard]] Result<bool> pick_skin(Hull& hull, const Topology& topology,
                                     const std::vector<Part>& parts, job::Side side,
                                     const Vec3& up);

}  // namespace tearline::hull
