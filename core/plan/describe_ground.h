#pragma once
#include "core/base/result.h"
#include "core/ground/ground.h"
#include "core/hull/hull.h"
#include "core/plan/plan.h"

namespace tearline::plan {

/// Fills what a plan says of the place itself: damage, scarf, footprint, grind guide, hull view.
[[nodiscard]] Result<void> describe_ground(const ground::Ground& ground, const hull::Hull& hull,
                                           Plan& plan);

}  // namespace tearline::plan
