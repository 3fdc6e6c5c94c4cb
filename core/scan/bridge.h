#pragma once
#include "core/base/outline.h"

namespace tearline::scan {

/// What is not believed in a plane view: the inside of an outline and a guard round it.
class Bridge {
public:
    Bridge() = default;
    /// @param outline  [mm] none: all is believed
    /// @param guard    [mm]
    Bridge(Loop2 outline, double guard);

    [[nodiscard]] bool holds(const Vec2& uv) const;
    [[nodiscard]] const Loop2& outline() const { return outline_; }
    [[nodiscard]] double guard() const { return guard_; }

private:
    Loop2 outline_;
    double guard_ = 0.0;
    // Most points lie in the one circle or outside the other, and need no look at every side.
    Vec2 middle_{0, 0};
    double inner_ = 0.0;  ///< [mm] of a circle about the middle, all of it within; nought: none
    double outer_ = 0.0;  ///< [mm] of one that holds outline and guard
};

}  // namespace tearline::scan
