#pragma once
#include "core/engine/ground.h"
#include "core/plan.h"

namespace tearline::engine {

/// What there is to fill in a sounded dish, and how proud its plies end: from the depth field.
/// @pre ground.sounded
[[nodiscard]] Result<DishVolumes> dish_volumes(const Ground& ground);

}  // namespace tearline::engine
