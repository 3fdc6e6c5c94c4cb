#pragma once
#include "core/engine/ground.h"
#include "core/plan.h"

namespace tearline::engine {

/// What there is to fill in a sounded dish, and how proud its plies end with their torn bands:
/// from the depth field.
/// @pre ground.sounded
[[nodiscard]] Result<DishVolumes> dish_volumes(const job::Job& job, const Ground& ground);

}  // namespace tearline::engine
