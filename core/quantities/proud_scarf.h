#pragma once
#include <span>

#include "core/base/quantity.h"
#include "core/base/vec.h"

namespace tearline::quantities {

/// One ply across the scarf.
struct ScarfStep {
    double edge = 0.0;       ///< [mm] edge of the full thickness, outside the damage outline
    double thickness = 0.0;  ///< [mm]
    double band = 0.0;       ///< [mm] torn band outside the edge, thinning linearly to nothing
};

struct ProudScarf {
    double mean_mm = 0.0;  ///< negative where the laminate ends low
    double max_mm = 0.0;
};

/// How far the stack stands above the base surface over the scarf, covers aside.
///
/// A section across a straight damage outline: the sum of the plies' thicknesses less the depth of
/// the dish, from the outline to the end of the scarf.
///
/// @param dish  profile as (offset outside the outline, depth) pairs [mm], to depth 0
/// @source derived in core/quantities/README.md; the worked job of SOURCES.md section 1
[[nodiscard]] ProudScarf proud_scarf(std::span<const ScarfStep> steps, std::span<const Vec2> dish);

/// Volume between the laminate and the fair surface where the laminate is the lower.
///
/// @param steps      every ply, covers too: what stands proud is sanded, never filled
/// @param dish       profile as (offset outside the outline, depth) pairs [mm], to depth 0
/// @param area       [mm2] inside the damage outline
/// @param perimeter  [mm] of it; at an offset x it is longer by 2 pi x, as of a convex outline
/// @param below      [mm] how far the fair surface lies below the base surface: a final topcoat
/// @source derived in core/quantities/README.md
[[nodiscard]] Millilitres low_volume(std::span<const ScarfStep> steps, std::span<const Vec2> dish,
                                     double area, double perimeter, double below);

}  // namespace tearline::quantities
