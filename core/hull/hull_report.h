#pragma once
#include <string>

#include "core/hull/hull.h"

namespace tearline::hull {

/// What a model holds, as lines for a person: what was read, size, openings, orientation, radii,
/// what was mended.
///
/// @param units  US: feet, inches and square feet; places stay in mm, as a job file has them
[[nodiscard]] std::string hull_report_text(const Hull& hull, Units units = Units::metric);

}  // namespace tearline::hull
