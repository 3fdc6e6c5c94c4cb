#pragma once
#include "core/engine/ground.h"
#include "core/engine/place_points.h"

namespace tearline::engine {

/// Lays tapes from the middle of the damage to every mark, and warns of marks that will be ground
/// away or covered.
void lay_mark_ways(const PlacedJob& placed, Ground& ground);

}  // namespace tearline::engine
