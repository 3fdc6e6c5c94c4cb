#pragma once
#include <vector>

#include "core/base/vec.h"

namespace tearline::hull {

/// Which points are one: those nearer than `reach` to an earlier one that was kept.
struct Welded {
    std::vector<std::int32_t> number;  ///< per point, which of `kept` it is
    std::vector<Vec3> kept;            ///< in the order of their first use
};

/// @param reach  [mm] > 0
[[nodiscard]] Welded weld(const std::vector<Vec3>& points, double reach);

}  // namespace tearline::hull
