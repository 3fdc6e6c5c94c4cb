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

    /// The same with a parameter of another line's, for what changes along that.
    /// @param steps  [mm] > 0, from each point's parameter to the next one's
    OpenSpline(std::vector<Vec3> points, std::vector<double> steps);

    /// The point at `part` of the way from point `segment` to the next one.
    /// @param part  [-] in [0, 1]
    [[nodiscard]] Vec3 at(std::size_t segment, double part) const;

    /// First and second derivative there by the spline's own parameter [-, 1/mm].
    [[nodiscard]] Vec3 slope(std::size_t segment, double part) const;
    [[nodiscard]] Vec3 bend(std::size_t segment, double part) const;

    /// From the parameter of point `segment` to the next one's [mm].
    [[nodiscard]] double step(std::size_t segment) const { return chord_[segment]; }

    [[nodiscard]] std::size_t segments() const { return points_.size() - 1; }

private:
    std::vector<Vec3> points_;
    std::vector<double> chord_;  ///< [mm] of the parameter, from point i to the next
    std::vector<Vec3> second_;   ///< [1/mm] second derivative at point i
};

}  // namespace tearline::surface
