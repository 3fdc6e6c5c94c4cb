#pragma once
#include <vector>

#include "core/scan/two_arc.h"

namespace tearline::scan {

/// Where a ball that touches both sides of a bend stands, and where it touches them.
struct BallPlace {
    Vec3 centre{0, 0, 0};             ///< [mm]
    Vec3 from{0, 0, 1}, to{0, 0, 1};  ///< unit, from the centre to where it touches either side
};

/// The surface that a ball of one radius leaves between two sides it rolls along: a bend.
///
/// Its parameters are the length along the chine's chord, and how far round the ball from the
/// first side (0) to the second (`width`).
class RolledBend {
public:
    /// @param radius  [mm] of the ball
    /// @param low     [mm] along the chord, of the first place
    /// @param step    [mm] from one place to the next
    /// @param places  four or more
    RolledBend(double radius, double low, double step, const std::vector<BallPlace>& places);

    [[nodiscard]] SurfaceJet jet(const Vec2& at) const;
    [[nodiscard]] Vec3 point(const Vec2& at) const;
    /// The second parameter on the second side [mm]: about the length round the bend.
    [[nodiscard]] double width() const { return width_; }
    [[nodiscard]] double radius() const { return radius_; }
    [[nodiscard]] double low() const { return low_; }
    [[nodiscard]] double high() const { return high_; }

private:
    using Nine = Eigen::Matrix<double, 9, 1>;
    double radius_, low_, high_, step_, width_ = 0.0;
    std::vector<Nine> poles_;  ///< of centre, from and to: a cubic B-spline
};

}  // namespace tearline::scan
