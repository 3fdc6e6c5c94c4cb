#pragma once
#include <array>
#include <vector>

#include "core/scan/fair_surface.h"

namespace tearline::scan {

/// A line that points seem to turn along, before anything is fitted.
struct ChineLine {
    std::vector<Vec3> points;   ///< [mm] some, in order along what of it is seen
    std::array<Vec3, 2> flank;  ///< unit normals of the skin on either side of it
    double turn = 0.0;          ///< [rad] on the line, as far as small places tell
    double spread = 0.0;        ///< [rad] of that turn, by the kind's noise

    /// Where along it the way to a place is shortest [mm].
    [[nodiscard]] double away(const Vec3& place) const;
};

/// Lines along which the normals of small places turn, the sharpest first; outside what is not
/// believed. What is found is a guess: whether the hull turns there, a fit to each side tells.
///
/// @param points  [mm] of the scan about the damage
/// @pre  request.outward and request.spacing are known
[[nodiscard]] std::vector<ChineLine> chine_lines(const std::vector<Vec3>& points,
                                                 const FairRequest& request);

}  // namespace tearline::scan
