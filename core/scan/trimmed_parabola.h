#pragma once
#include <span>
#include <vector>

#include "core/scan/two_arc.h"

namespace tearline::scan {

/// How much each of some points counts by the parabola that three quarters of them lie nearest to:
/// what stands in one part of them before the others, as of a trestle, for nothing. A fit through
/// all points would bend to it, find it near, and believe it.
///
/// Of parabolas through a few points each, drawn to the three quarters of all that lie nearest.
/// @param outward  roughly which way they face
/// @source  least trimmed squares by concentration: Rousseeuw and Van Driessen, Computing LTS
///          regression for large data sets (2006), from memory
[[nodiscard]] std::vector<double> counts_of_most(std::span<const WeighedPoint> points,
                                                 const Vec3& outward);

}  // namespace tearline::scan
