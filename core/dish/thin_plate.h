#pragma once
#include <Eigen/Core>
#include <vector>

#include "core/base/vec.h"

namespace tearline::dish {

/// A height with its place, to be met or to be passed above.
struct PlatePoint {
    Vec2 at{0, 0};          ///< [mm]
    double height = 0.0;    ///< [mm]
    bool at_least = false;  ///< the surface may pass above it
};

/// The surface that bends least of all through points, or above those that it may pass above.
///
/// Above: where the force that would hold it down on a point is left out, as long as it does not
/// fall below another one (active sets; the energy is convex, so the end is the only one).
/// @source  Duchon, Splines minimizing rotation-invariant semi-norms in Sobolev spaces (1977);
///          Hintermueller, Ito, Kunisch, The primal-dual active set strategy (2002)
class ThinPlate {
public:
    ThinPlate() = default;
    /// @pre at least three points off one line that must be met
    explicit ThinPlate(const std::vector<PlatePoint>& points);

    [[nodiscard]] double at(const Vec2& p) const;
    /// Its gradient [-].
    [[nodiscard]] Vec2 slope(const Vec2& p) const;

private:
    void solve(const std::vector<PlatePoint>& points, const std::vector<std::size_t>& met);

    std::vector<Vec2> centre_;  ///< scaled
    Eigen::VectorXd weight_;    ///< of each centre, then of 1, x, y
    Vec2 origin_{0, 0};
    double scale_ = 1.0;  ///< [mm]
};

/// Inverse of the system of a plate that meets every point: of as many rows and three.
[[nodiscard]] Eigen::MatrixXd plate_inverse(const std::vector<PlatePoint>& points);

}  // namespace tearline::dish
