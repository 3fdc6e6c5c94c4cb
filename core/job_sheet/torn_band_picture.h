#pragma once
#include <string>

#include "core/plan/plan.h"

namespace tearline::job_sheet {

/// A section through the torn edge of a mat as SVG: whole up to the net line, thinned by hand to
/// nothing at the tear line.
///
/// @param margin_mm  between the two lines
[[nodiscard]] std::string torn_band_picture(const Plan& plan, double margin_mm);

}  // namespace tearline::job_sheet
