#pragma once
#include <memory>
#include <span>
#include <vector>

#include "core/surface/patch.h"

namespace tearline::dish {

/// Where a ray sets out.
struct RaySource {
    surface::Location at;
    Vec3 direction{1, 0, 0};  ///< in space; its tangential part counts
    double distance = 0.0;    ///< [mm] from the damage outline
};

/// A geodesic that runs away from the damage, in the chart.
///
/// Where it runs over the rim it goes on straight in the chart, so that regions can be cut by the
/// patch's domain afterwards; it ends where that straight line would come back into the domain.
struct SweptRay {
    RaySource source;
    std::vector<Vec2> point;  ///< [mm] at each station up to `reach`; copies of another ray's
                              ///< before the place where a fan sets out from it
    Vec2 end{0, 0};           ///< [mm] at `reach`
    double reach = 0.0;       ///< [mm] distance up to which it counts
    double on_patch = 0.0;    ///< [mm] distance up to which it lies on the patch
    Vec2 rim{0, 0};           ///< [mm] at `on_patch`
    bool left_patch = false;
    bool over_hull_end = false;  ///< left over the hull's own end or an opening
    bool came_back = false;      ///< ended because its straight line met the domain again
    Vec2 start_direction{1, 0};  ///< unit, in the chart
};

/// A source, and the ray that one from there continues: nothing on the outline itself.
struct RayStart : RaySource {
    const SweptRay* before = nullptr;
};

/// Follows one ray to the last station.
/// @param stations  [mm] ascending distances outside the outline
[[nodiscard]] SweptRay sweep_ray(const surface::Patch& patch, const RayStart& start,
                                 std::span<const double> stations);

}  // namespace tearline::dish
