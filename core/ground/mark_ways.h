#pragma once
#include "core/ground/ground.h"
#include "core/ground/place_points.h"

namespace tearline::ground {

struct MarkWays {
    std::vector<templates::TapeWay> ways;
    Warnings warnings;  ///< of marks that will be ground away or covered
};

/// Tapes from the middle of the damage to every mark.
[[nodiscard]] MarkWays mark_ways(const PlacedJob& placed, const Ground& ground);

}  // namespace tearline::ground
