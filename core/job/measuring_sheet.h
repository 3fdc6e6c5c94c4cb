#pragma once
#include <string>

#include "core/base/units.h"

namespace tearline::job {

/// How a hull without a model is measured.
enum class MeasuredBy { batten, grid, corner, sections };

/// A page to take to the hull: where marks and batten, string net or stations go, and a box for
/// every figure that a job without a model wants, in the order they are taken and under the names
/// they have in the job file.
///
/// @param units  US: inches to 1/32, on Letter
[[nodiscard]] std::string measuring_sheet(MeasuredBy by, Units units = Units::metric);

}  // namespace tearline::job
