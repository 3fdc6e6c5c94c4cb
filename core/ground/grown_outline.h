#pragma once
#include <vector>

#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/job/job.h"

namespace tearline::ground {

/// The damage outline of a job, grown by a geodesic distance on its base surface: points a few mm
/// apart, in order, that a smooth curve joins again.
///
/// @param by  [mm] >= 0
/// @error  as lay_ground()
[[nodiscard]] Result<std::vector<Vec3>> grown_outline(const job::Job& job, const hull::Hull& hull,
                                                      double by);

/// The same damage for a job that is laid on another face: by those points.
///
/// @param apart  [mm] between the two faces
[[nodiscard]] job::Damage carried_to(const job::Damage& damage, std::vector<Vec3> points,
                                     double apart);

}  // namespace tearline::ground
