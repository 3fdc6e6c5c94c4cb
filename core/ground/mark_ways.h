#pragma once
#include "core/ground/ground.h"
#include "core/ground/place_points.h"

namespace tearline::ground {

/// Lays tapes from the middle of the damage to every mark, and warns of marks that will be ground
/// away or covered.
void lay_mark_ways(const PlacedJob& placed, Ground& ground);

}  // namespace tearline::ground
