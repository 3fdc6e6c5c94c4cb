#pragma once
#include <string>

#include "core/plan/plan.h"

namespace tearline::job_sheet {

/// The job sheet: one HTML file to print on A4 or Letter and take into the shop.
[[nodiscard]] std::string job_sheet(const Plan& plan);

}  // namespace tearline::job_sheet
