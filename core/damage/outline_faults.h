#pragma once
#include <optional>

#include "core/base/outline.h"
#include "core/surface/patch.h"

namespace tearline::damage {

/// A place on the edge of an opening that lies inside the curve; nothing when there is none.
[[nodiscard]] std::optional<Vec3> enclosed_opening(const surface::Patch& patch, const Loop2& chart);

}  // namespace tearline::damage
