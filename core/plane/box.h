#pragma once
#include <vector>

#include "core/base/vec.h"

namespace tearline::plane {

/// An upright rectangle.
struct Box {
    Vec2 low{0, 0}, high{0, 0};  ///< [mm]
    [[nodiscard]] Vec2 size() const { return high - low; }
    [[nodiscard]] bool meets(const Box& other) const {
        return (low.array() < other.high.array()).all() && (other.low.array() < high.array()).all();
    }
    /// Whether the two have a point in common, on their edges too.
    [[nodiscard]] bool touches(const Box& other) const {
        return (low.array() <= other.high.array()).all() &&
               (other.low.array() <= high.array()).all();
    }
};

/// The box round some points, widened by a margin [mm] on every side.
[[nodiscard]] Box box_round(const std::vector<Vec2>& points, double margin = 0.0);

/// Whether a segment touches a box.
[[nodiscard]] bool meets(const Box& box, const Vec2& a, const Vec2& b);

}  // namespace tearline::plane
