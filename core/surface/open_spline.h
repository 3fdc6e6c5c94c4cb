#pragma once
#include <vector>

#include "core/base/vec.h"

namespace tearline::surface {

/// Open cubic spline with continuous second derivative through points in space, its parameter
/// growing by the chord between neighbours; without bend at its ends (natural).
class OpenSpline {
public:
    /// @param points  [mm] two or more, neighbours apart
    explicit OpenSpline(std::vector<Vec3> points);

    /// The point at `part` of the way from point `segment` to the next one.
    /// @param part  [-] in [0, 1]
    [[nodiscard]] Vec3 at(std::size_t segment, double part) const;

    [[nodiscard]] std::size_t segments() const { return points_.size() - 1; }

private:
    std::vector<Vec3> points_;
    std::vector<double> chord_;  ///< [mm] from point i to the next
    std::vector<Vec3> second_;   ///< [1/mm] second derivative at point i
};

}  // namespace tearline::surface
