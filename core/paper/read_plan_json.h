#pragma once
#include <string_view>

#include "core/base/result.h"
#include "core/templates/template_set.h"

namespace tearline::paper {

/// Reads what is drawn back out of the text of a plan.json, schema "tearline-plan/1"; unknown keys
/// are passed over. Of a boat, "tearline-boat/1", with its plans in it under "plans": each place is
/// a part, its pieces under the names that they have among all.
///
/// @error bad_input  no JSON, another schema, or a value that is not what the schema says
[[nodiscard]] Result<templates::TemplateSet> read_plan_json(std::string_view json);

}  // namespace tearline::paper
