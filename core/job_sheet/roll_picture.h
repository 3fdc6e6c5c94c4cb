#pragma once
#include <string>

#include "core/plan/plan.h"

namespace tearline::job_sheet {

/// How the pieces lie on a roll, small; the roll runs from left to right.
[[nodiscard]] std::string roll_picture(const Plan& plan, const layout::Roll& roll);

}  // namespace tearline::job_sheet
