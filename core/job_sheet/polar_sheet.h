#pragma once
#include <string>

#include "core/plan/plan.h"

namespace tearline::job_sheet {

/// Every template by distances from the datum, as tables in HTML: drawn with tape and protractor it
/// needs no printer. A row each 15 degrees, and the corners.
[[nodiscard]] std::string polar_tables(const Plan& plan);

}  // namespace tearline::job_sheet
