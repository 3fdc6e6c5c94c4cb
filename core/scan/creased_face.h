#pragma once
#include <memory>

#include "core/hull/hull.h"
#include "core/scan/creased_surface.h"

namespace tearline::scan {

/// A mesh of fair surfaces that meet in chines, over a part of their view, ready to be made one
/// surface: a CAD model of a face a side and an edge a chine.
///
/// @param domain   [mm] in the view, counter-clockwise
/// @param edge     [mm] about how long the triangles' edges are
/// @param outward  +1 where the view's normal looks outward, -1 where inward
[[nodiscard]] hull::Hull hull_over(std::shared_ptr<const CreasedSurface> surface,
                                   const Loop2& domain, double edge, double outward);

}  // namespace tearline::scan
