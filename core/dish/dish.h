#pragma once
#include <span>
#include <vector>

#include "core/dish/offset_distance.h"

namespace tearline::dish {

/// How deep the ground-out cavity is at each distance outside the damage outline: (offset, depth)
/// pairs [mm] from (0, D) to (w, 0), straight between them.
using Profile = std::vector<Vec2>;

/// Depth at a distance outside the outline [mm]: D inside (offset <= 0), 0 beyond the scarf.
[[nodiscard]] double depth_at(const Profile& profile, double offset);

/// The cavity as a depth field over the base surface.
class Dish {
public:
    Dish(Profile profile, const OffsetSweep& sweep)
        : profile_(std::move(profile)), distance_(sweep) {}

    /// Depth below the base surface [mm].
    [[nodiscard]] double depth(const Vec2& chart_point) const {
        return depth_at(profile_, distance_.at(chart_point));
    }

    /// Geodesic distance outside the outline [mm]; 0 inside.
    [[nodiscard]] double offset(const Vec2& chart_point) const { return distance_.at(chart_point); }

    [[nodiscard]] const Profile& profile() const { return profile_; }

private:
    Profile profile_;
    OffsetDistance distance_;
};

/// Volume between a surface and the points that lie `depth` under it along its normals [mm3].
///
/// @param depth  [mm] per vertex of the mesh, positive below the surface
/// @source  each triangle's prism by the area of its section at three depths (Simpson's rule is
///          exact: the section's area is quadratic in the depth)
[[nodiscard]] double volume_under(const surface::SurfaceMesh& mesh, std::span<const double> depth);

}  // namespace tearline::dish
