#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/dish/sounded_dish.h"
#include "core/ground/ground.h"
#include "core/ground/straightedge.h"
#include "core/job/job.h"

namespace tearline::ground {

/// A sounding with its place on the patch.
struct PlacedSounding {
    job::Sounding sounding;
    std::string name;  ///< for messages: "damage.sounding[3]"
    surface::Location at;
    Vec2 chart{0, 0};
    bool on_patch = true;                   ///< else the place is the nearest one of its rim
    std::optional<StraightedgeRest> under;  ///< how its straightedge lay, where there was one
};

/// The soundings taken after job.after_ply, those off the patch too.
[[nodiscard]] std::vector<PlacedSounding> nearest_places(const job::Job& job,
                                                         const surface::Patch& patch);

/// The soundings taken after job.after_ply.
///
/// @error bad_input  one off the hull, or fewer than tell a dish
[[nodiscard]] Result<std::vector<PlacedSounding>> placed_soundings(const job::Job& job,
                                                                   const surface::Patch& patch);

/// Whether the outline goes round the floor: said, or seen from a sounding outside it.
[[nodiscard]] bool outline_is_floor(const job::Job& job,
                                    const std::vector<PlacedSounding>& soundings,
                                    const Loop2& outline);

[[nodiscard]] bool in_any(const std::vector<Region2>& regions, const Vec2& p);

/// How deep a sounding lies below the old surface [mm]: as read by gauge; under a straightedge less
/// what the edge stands over that surface.
///
/// @param ground  with patch, outline and frame
/// @param area    that is ground off, in the chart
/// @error bad_input  a straightedge that cannot have lain there
[[nodiscard]] Result<double> depth_below_old_surface(const Ground& ground,
                                                     const std::vector<Region2>& area,
                                                     PlacedSounding& one);

/// The same of all of them, none above the surface.
///
/// @error bad_input  a depth outside the ground area or beyond the skin, too
[[nodiscard]] Result<std::vector<dish::ChartSounding>> depths_below_old_surface(
    const job::Job& job, const Ground& ground, const std::vector<Region2>& area,
    std::vector<PlacedSounding>& soundings);

/// The old surface under the straightedges of a job.
[[nodiscard]] OldSurface old_surface(const Ground& ground, const std::vector<Region2>& area);

/// A sounding's straightedge at its place.
[[nodiscard]] Straightedge straightedge_of(const Ground& ground, const surface::Location& at,
                                           const job::Sounding& sounding);

}  // namespace tearline::ground
