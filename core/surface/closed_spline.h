#pragma once
#include <vector>

#include "core/base/vec.h"

namespace tearline::surface {

/// A closed, twice continuously differentiable cubic through points, by chord length.
///
/// @pre at least three points, no two neighbours equal
class ClosedSpline {
public:
    explicit ClosedSpline(std::vector<Vec3> points);

    [[nodiscard]] Vec3 at(double parameter) const;
    [[nodiscard]] Vec3 derivative(double parameter) const;
    [[nodiscard]] double length() const { return knot_.back(); }  ///< of the parameter [mm]
    [[nodiscard]] const std::vector<double>& knots() const { return knot_; }

private:
    struct Place {
        std::size_t i, j;
        double h, s;
    };
    [[nodiscard]] Place place(double parameter) const;

    std::vector<Vec3> point_;
    std::vector<Vec3> slope_;   ///< first derivative at each point
    std::vector<double> knot_;  ///< chord lengths added up; one more than points
};

}  // namespace tearline::surface
