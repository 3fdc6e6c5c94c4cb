#pragma once
#include "core/base/outline.h"

namespace tearline::plane {

/// Whether a curve turns back on itself at a point.
using IsSpike = bool (*)(const Vec2& before, const Vec2& tip, const Vec2& after);

/// With next to nothing between the two sides: less than tolerance::spike_width.
[[nodiscard]] bool is_narrow(const Vec2& before, const Vec2& tip, const Vec2& after);

/// By all but 6 degrees.
[[nodiscard]] bool is_sharp(const Vec2& before, const Vec2& tip, const Vec2& after);

/// A closed curve without the points where it turns back on itself; those that come to be spikes
/// when others are gone go, too. Fewer than 3 points where nothing else is left.
[[nodiscard]] Loop2 without_spikes(const Loop2& loop, IsSpike is_spike);

}  // namespace tearline::plane
