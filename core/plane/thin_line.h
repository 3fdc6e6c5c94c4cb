#pragma once
#include "core/base/outline.h"

namespace tearline::plane {

/// A closed line without the points that lie within `tolerance` of the line through the others.
///
/// Corners stay; repeated points go.
/// @param tolerance  [mm] > 0
[[nodiscard]] Loop2 thinned(const Loop2& loop, double tolerance);

/// Leaves out the points of a closed curve that its neighbours stand for.
/// @param chord    [mm] how far the curve may move
/// @param longest  [mm] no two neighbours farther apart, where the curve had points between
[[nodiscard]] Loop2 thinned(const Loop2& loop, double chord, double longest);

}  // namespace tearline::plane
