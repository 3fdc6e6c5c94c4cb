#pragma once
#include <string>

#include "core/plan/plan.h"

namespace tearline::formats {

/// The plan as schema "tearline-plan/1"; of what is only laid flat, "tearline-flat/1".
[[nodiscard]] std::string plan_json(const Plan& plan);

}  // namespace tearline::formats
