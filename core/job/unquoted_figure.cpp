#include "core/job/unquoted_figure.h"

#include <cctype>
#include <vector>

#include "core/job/node.h"
#include "core/job/trimmed.h"

namespace tearline::job {

namespace {

/// What stands between brackets, commas, equals signs and quoted text, up to a comment.
std::vector<std::string_view> bare_parts(std::string_view line) {
    std::vector<std::string_view> parts;
    std::size_t from = 0;
    char quote = 0;
    for (std::size_t i = 0; i <= line.size(); ++i) {
        const char c = i < line.size() ? line[i] : '#';
        if (quote != 0) {
            if (c == quote) quote = 0;
            from = i + 1;
            continue;
        }
        const bool ends = std::string_view("[]{},=#").find(c) != std::string_view::npos;
        // An inch mark behind a figure opens no text.
        const bool opens = (c == '"' || c == '\'') && trimmed(line.substr(from, i - from)).empty();
        if (!ends && !opens) continue;
        parts.push_back(trimmed(line.substr(from, i - from)));
        from = i + 1;
        if (opens) quote = c;
        if (c == '#') break;
    }
    return parts;
}

/// What follows the figure that a part begins with; nothing where it begins with none.
std::string_view behind_figure(std::string_view part) {
    const auto end = part.find_first_not_of("0123456789.+-");
    if (end == std::string_view::npos || end == 0) return {};
    return trimmed(part.substr(end));
}

}  // namespace

std::optional<std::string> unquoted_figure(std::string_view line) {
    for (const std::string_view part : bare_parts(line)) {
        const std::string_view rest = behind_figure(part);
        if (rest.empty()) continue;
        const std::string shown = quotable(part);
        if (rest.front() == '/' && rest.find_first_not_of("/0123456789. ") == std::string::npos)
            return "value " + shown +
                   ": a fraction is no number here; write two numbers as [2, 1], or a length in "
                   "quotes with its unit, such as \"3/4 in\"";
        const bool unit = std::isalpha(static_cast<unsigned char>(rest.front())) != 0 ||
                          std::string_view("/\"'%").find(rest.front()) != std::string_view::npos;
        if (!unit) continue;
        if (rest == "%") return "value " + shown + ": write the number of percent without the sign";
        const std::string quote = rest.find('"') == std::string::npos ? "\"" : "'";
        return "value " + shown + ": a figure with its unit stands in quotes: " + quote + shown +
               quote;
    }
    return std::nullopt;
}

}  // namespace tearline::job
