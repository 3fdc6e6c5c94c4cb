#pragma once
#include <string>

#include "core/plan.h"

namespace tearline::output {

/// How the pieces lie on a roll, small; the roll runs from left to right.
[[nodiscard]] std::string roll_picture(const Plan& plan, const Roll& roll);

}  // namespace tearline::output
