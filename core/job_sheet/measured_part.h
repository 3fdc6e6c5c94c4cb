#pragma once
#include <string>

#include "core/plan/plan.h"

namespace tearline::job_sheet {

/// The part of the job sheet for what was measured by hand: figures of the hull and how they are
/// met, marks, what there is to fill, what was built so far. Empty where nothing was.
[[nodiscard]] std::string measured_part(const Plan& plan);

}  // namespace tearline::job_sheet
