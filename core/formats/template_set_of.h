#pragma once
#include "core/plan/plan.h"
#include "core/templates/template_set.h"

namespace tearline::formats {

/// What is drawn of a plan. A job without a title goes by its file's name.
[[nodiscard]] templates::TemplateSet template_set_of(const Plan& plan);

}  // namespace tearline::formats
