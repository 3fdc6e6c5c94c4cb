#pragma once
#include <string>

#include "core/paper/read_plan_json.h"

namespace tearline::cli {

/// Reads DIR/plan.json, or what comes on stdin for "-".
///
/// @error bad_input  no such folder, no plan in it, or a plan that cannot be read or was edited
[[nodiscard]] Result<templates::TemplateSet> open_plan(const std::string& folder);

/// The job sheet of a plan's folder, or of standard input where that is "-"; errors as open_plan.
[[nodiscard]] Result<std::string> open_sheet(const std::string& folder);

}  // namespace tearline::cli
