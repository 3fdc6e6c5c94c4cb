#pragma once
#include "core/scan/fair_surface.h"

namespace tearline::scan {

/// Length of the shortest way on a fair surface between the feet of two points [mm].
///
/// The way is a chain of short steps over the parameters, drawn tight by Gauss-Newton on the sum of
/// their squares; the steps' chords are short of their arcs by less than 1e-5 of the length on
/// radii above a tenth of it.
[[nodiscard]] double girth(const FairSurface& surface, const Vec3& from, const Vec3& to);

}  // namespace tearline::scan
