#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::ground {

struct Ground;

/// What regions that the hull's end cuts come to.
struct EndsMet {
    bool outer = false;       ///< the end round the hull
    bool named = false;       ///< openings of the model that the job names are there
    std::vector<Vec3> holes;  ///< [mm] middles of openings of the model that the job does not name
};

/// @param regions  in the ground's patch's chart, clipped by it
[[nodiscard]] EndsMet ends_met(const Ground& ground, const std::vector<Region2>& regions);

}  // namespace tearline::ground
