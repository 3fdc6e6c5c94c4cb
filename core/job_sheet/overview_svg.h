#pragma once
#include <string>

#include "core/plan/plan.h"

namespace tearline::job_sheet {

/// The repair at a glance: where it sits on the hull, the plies on it, the templates beside with
/// their strain, and what it takes.
[[nodiscard]] std::string overview_svg(const Plan& plan);

}  // namespace tearline::job_sheet
