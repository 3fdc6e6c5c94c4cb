#pragma once
#include <string_view>

namespace tearline {

/// The version of the program, as the top CMakeLists.txt gives it.
[[nodiscard]] std::string_view version();

/// Compiler and libraries that it was built with, for a report of a fault: one line.
[[nodiscard]] std::string_view built_with();

}  // namespace tearline
