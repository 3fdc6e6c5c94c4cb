#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace tearline::job {

/// What is wrong with a line of a job file that TOML cannot read, when it is a figure with its unit
/// or a fraction outside quotes; nothing where it is something else.
[[nodiscard]] std::optional<std::string> unquoted_figure(std::string_view line);

}  // namespace tearline::job
