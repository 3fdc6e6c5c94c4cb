#pragma once
#include <string>

#include "core/plan/plan.h"

namespace tearline::job_sheet {

/// How the pieces lie on a roll, small; the roll runs from left to right.
///
/// @param most_height  [mm] of the picture
[[nodiscard]] std::string roll_picture(const Plan& plan, const layout::Roll& roll,
                                       double most_height = 30.0);

}  // namespace tearline::job_sheet
