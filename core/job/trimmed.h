#pragma once
#include <string_view>

namespace tearline::job {

/// Without the blanks and tabs at both ends, and the carriage return of a line that has one.
[[nodiscard]] inline std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

}  // namespace tearline::job
