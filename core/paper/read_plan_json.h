#pragma once
#include <string_view>

#include "core/base/result.h"
#include "core/templates/template_set.h"

namespace tearline::paper {

/// Reads what is drawn back out of the text of a plan.json, schema "tearline-plan/1"; unknown keys
/// are passed over.
///
/// @error bad_input  no JSON, another schema, or a value that is not what the schema says
[[nodiscard]] Result<templates::TemplateSet> read_plan_json(std::string_view json);

}  // namespace tearline::paper
