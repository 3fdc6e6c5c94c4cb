#pragma once
#include <vector>

#include "core/base/outline.h"

namespace tearline::scan {

/// Points of a triangular grid inside a loop, none nearer to it than half an edge.
[[nodiscard]] std::vector<Vec2> points_inside(const Loop2& domain, double edge);

/// The loop with a point about every edge.
[[nodiscard]] Loop2 stepped(const Loop2& loop, double edge);

}  // namespace tearline::scan
