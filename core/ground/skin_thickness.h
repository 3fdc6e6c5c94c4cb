#pragma once
#include <optional>

#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/warnings/warning.h"

namespace tearline::ground {

/// How far apart the two faces of a model's skin lie near a damage.
struct MeasuredSkin {
    double least = 0.0, most = 0.0;  ///< [mm] chords of the facets leave it open between these
};

/// Measures from corners of each face, where facets lie on the surface, to the facets of the other:
/// one way is short and the other long by what a chord leaves off, so that the truth lies between.
/// @param place  [mm] on or near the hull
/// @return       nothing where the model holds one face alone
[[nodiscard]] std::optional<MeasuredSkin> measured_skin(const hull::Hull& hull, const Vec3& place);

/// Warns when hull.skin and a model that holds both faces of the skin tell two thicknesses.
[[nodiscard]] Warnings check_skin(const job::Job& job, const hull::Hull& hull, const Vec3& place);

}  // namespace tearline::ground
