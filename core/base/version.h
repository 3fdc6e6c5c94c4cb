#pragma once
#include <string_view>

namespace tearline {

/// The version of the program, as the top CMakeLists.txt gives it.
[[nodiscard]] std::string_view version();

}  // namespace tearline
