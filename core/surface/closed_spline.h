#pragma once
#include <vector>

#include "core/base/vec.h"

namespace tearline::surface {

/// Closed cubic spline with continuous second derivative through points in space, its parameter
/// growing by the chord between neighbours.
class ClosedSpline {
public:
    /// @param points  [mm] three or more, neighbours apart
    explicit ClosedSpline(std::vector<Vec3> points);

    /// The point at `part` of the way from point `segment` to the next one.
    /// @param part  [-] in [0, 1]
    [[nodiscard]] Vec3 at(std::size_t segment, double part) const;

    [[nodiscard]] std::size_t segments() const { return points_.size(); }

private:
    std::vector<Vec3> points_;
    std::vector<double> chord_;  ///< [mm] from point i to the next
    std::vector<Vec3> second_;   ///< [1/mm] second derivative at point i
};

}  // namespace tearline::surface
