#pragma once
#include "core/base/result.h"
#include "core/engine/ground.h"
#include "core/hull/hull.h"
#include "core/plan.h"

namespace tearline::engine {

/// Fills what a plan says of the place itself: damage, scarf, footprint, grind guide, hull view.
[[nodiscard]] Result<void> describe_ground(const Ground& ground, const hull::Hull& hull,
                                           Plan& plan);

}  // namespace tearline::engine
