#pragma once
#include <memory>

#include "core/hull/hull.h"
#include "core/scan/fair_surface.h"

namespace tearline::scan {

/// A fair surface as the one face of a CAD model, its parameters those of the base.
[[nodiscard]] std::shared_ptr<const hull::CadFaces> face_of(
    std::shared_ptr<const FairSurface> surface);

/// A mesh of it over a part of its parameters, ready to be made one surface.
///
/// @param domain     counter-clockwise
/// @param edge       [mm] about how long the triangles' edges are
/// @param outward    +1 where the base's normal looks outward, -1 where inward
[[nodiscard]] hull::Hull hull_over(std::shared_ptr<const FairSurface> surface, const Loop2& domain,
                                   double edge, double outward);

}  // namespace tearline::scan
