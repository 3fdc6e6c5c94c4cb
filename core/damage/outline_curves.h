#pragma once
#include <vector>

#include "core/damage/hull_end_way.h"
#include "core/damage/outline_picks.h"
#include "core/damage/sample_curve.h"
#include "core/job/job.h"

namespace tearline::damage {

/// The edge of a damage given by points, as far as it lies on the hull.
/// @error  it goes on where there is no surface
[[nodiscard]] Result<std::vector<CurveRun>> curve_through(const surface::Patch& patch,
                                                          const HullEndWay& end,
                                                          const job::Damage& damage,
                                                          std::vector<Pick> picks);

/// The same of a disc or ellipse: an end of its geodesics from the centre.
/// @error bad_input  the centre lies off the hull
[[nodiscard]] Result<std::vector<CurveRun>> curve_about_centre(const surface::Patch& patch,
                                                               const job::Damage& damage,
                                                               const Vec3& bow, const Vec3& up);

}  // namespace tearline::damage
