#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::plies {

/// Regions without slivers: parts and openings narrower than `width` are closed or dropped, tails
/// and inlets narrower than scissors follow are evened out.
struct OpenedRegions {
    std::vector<Region2> regions;
    int joined = 0;  ///< parts joined to a neighbour, and openings closed
    int closed = 0;  ///< of those: openings
    int dropped = 0;
    int inlets = 0;  ///< narrower than tolerance::scissors, filled
    int tails = 0;   ///< and cut off, necks too
    double dropped_mm2 = 0.0;
};
[[nodiscard]] OpenedRegions open_and_close(std::vector<Region2> regions, double width);

}  // namespace tearline::plies
