#pragma once
#include <string_view>

#include "core/base/result.h"
#include "core/job/node.h"

namespace tearline::job {

/// Parses TOML text into a tree with line numbers.
///
/// @param name  the file's name for messages
/// @error bad_input  not TOML, not UTF-8, larger or nested deeper than any job file
[[nodiscard]] Result<Node> parse_toml(std::string_view text, std::string_view name);

}  // namespace tearline::job
