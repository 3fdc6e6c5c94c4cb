#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/damage/foot.h"
#include "core/damage/hull_end_way.h"

namespace tearline::damage {

/// A point of the job file and where it is carried to.
struct Pick {
    Foot foot;
    Vec3 knot{0, 0, 0};        ///< [mm] what a smooth curve passes: beyond the hull's end itself
    bool on_hull_end = false;  ///< or beyond it
};

/// The points of an outline carried to the hull.
/// @param carried  [mm] how much farther off the hull than usual they may lie
/// @error bad_input  a point off the hull, or two at one place
[[nodiscard]] Result<std::vector<Pick>> picks_on_hull(const surface::Patch& patch,
                                                      const HullEndWay& end,
                                                      const std::vector<Vec3>& points,
                                                      double carried);

}  // namespace tearline::damage
