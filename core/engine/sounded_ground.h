#pragma once
#include "core/engine/ground.h"

namespace tearline::engine {

/// Takes the dish from the soundings of the job: its ground area, its depth field, the plies as
/// levels of it, and where it is steeper than the ratio.
///
/// @param ground  with patch, outline, frame and the levels that were planned
/// @error bad_input  soundings off the hull, outside the ground area, or that no slope can join
[[nodiscard]] Result<Ground> lay_sounded_ground(const job::Job& job, Ground ground);

/// How a straightedge lies over a place of the ground area.
struct StraightedgeRest {
    double correction = 0.0;               ///< [mm] to be added to what is read under it
    Vec3 ahead{0, 0, 0}, behind{0, 0, 0};  ///< [mm] the points that it rests on
    double share_ahead = 0.5;              ///< [-] of the height of `ahead` in that over the place
};

/// It rests with its middle over the place on the highest points of the old surface outside the
/// ground area.
/// @error bad_input  a straightedge that does not reach over the ground area on both sides
[[nodiscard]] Result<StraightedgeRest> straightedge_rest(const surface::Patch& patch,
                                                         const std::vector<Region2>& ground,
                                                         const surface::Location& at,
                                                         const Vec3& direction, double length);

/// The direction of a sounding's straightedge at its place.
[[nodiscard]] Vec3 straightedge_way(const Ground& ground, const surface::Location& at,
                                    double degrees);

/// What a straightedge reading leaves out: how far the old surface stands over the straightedge
/// where it bulges (positive), or under it where it is hollow [mm].
///
/// The straightedge lies with its middle over the place and rests on the highest points of the old
/// surface outside the ground area.
/// @param ground   [mm] in the chart
/// @error bad_input  a straightedge that does not reach over the ground area on both sides
[[nodiscard]] Result<double> straightedge_correction(const surface::Patch& patch,
                                                     const std::vector<Region2>& ground,
                                                     const surface::Location& at,
                                                     const Vec3& direction, double length);

}  // namespace tearline::engine
