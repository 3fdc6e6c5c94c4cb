#pragma once
#include <span>

#include "core/base/outline.h"
#include "core/scan/fair_field.h"

namespace tearline::scan {

/// The part of a base's parameters that a scan covers: round the points about the middle,
/// counter-clockwise, every hole filled; empty where none lie.
///
/// @param points   that stand for surface
/// @param bridged  covered whether points lie there or not
/// @param reach    [mm] half the side of the square looked at
/// @param spacing  [mm] between neighbouring points
[[nodiscard]] Loop2 domain_of(std::span<const FieldPoint> points, const Region2& bridged,
                              const Vec2& middle, double reach, double spacing);

}  // namespace tearline::scan
