#pragma once
#include "core/base/outline.h"

namespace tearline::plane {

/// How far a point lies from a closed curve [mm]; infinite from one without points.
[[nodiscard]] double distance_to_loop(const Loop2& loop, const Vec2& p);

}  // namespace tearline::plane
