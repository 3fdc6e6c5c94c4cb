#pragma once
#include "core/dish/offset_sweep.h"

namespace tearline::dish {

/// Adds fans from the places of the rim round which geodesics bend into what no ray of the outline
/// sees: behind openings and behind corners of the hull's end.
void add_shadow_fans(const surface::Patch& patch, const SweepOptions& options, OffsetSweep& sweep);

}  // namespace tearline::dish
