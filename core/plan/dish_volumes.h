#pragma once
#include "core/ground/ground.h"
#include "core/plan/plan.h"

namespace tearline::plan {

/// What there is to fill in a sounded dish, and how proud its plies end with their torn bands:
/// from the depth field.
/// @pre ground.sounded
[[nodiscard]] Result<DishVolumes> dish_volumes(const job::Job& job, const ground::Ground& ground);

}  // namespace tearline::plan
