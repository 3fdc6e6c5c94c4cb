#pragma once
#include <string>
#include <vector>

#include "core/templates/make_template.h"

namespace tearline::templates {

/// A line of the grind guide before it is laid flat.
struct RingRequest {
    std::vector<Loop2> chart;  ///< [mm]
    double depth_mm = 0.0;     ///< of the dish there
    int ply = 0;               ///< as in GrindGuide::Ring
    bool cover = false;        ///< of a cover ply, for which nothing is ground
    bool rim = false;          ///< the footprint's own edge, whose chart line laid flat would lie
                               ///< inside here and outside there
};

/// The flattened footprint with its rings, datum, arrows and ticks.
///
/// @param units      that the depths on it are said in
/// @param footprint  the footprint on the base surface, flattened like a ply
[[nodiscard]] GrindGuide make_grind_guide(const pieces::Piece& footprint,
                                          const damage::FlatFrame& frame,
                                          const Directions& directions,
                                          const std::vector<RingRequest>& rings,
                                          Units units = Units::metric);

}  // namespace tearline::templates
