#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/hull/orient.h"

namespace tearline::hull {

/// Turns every part of a consistently turned hull outward and says in words how that was decided.
///
/// @param outward  "auto" | "as modelled" | "reversed" (job: hull.outward)
/// @return         per triangle, whether it was turned over
/// @param must_know  whether an undecided "auto" is refused, or kept as modelled and said
/// @error bad_input  "auto", and the largest part does not say which way is out
[[nodiscard]] Result<std::vector<bool>> face_outward(Hull& hull, Topology& topology,
                                                     std::vector<Part>& parts,
                                                     const std::string& outward, bool must_know);

}  // namespace tearline::hull
