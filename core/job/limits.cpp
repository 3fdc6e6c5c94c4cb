#include "core/job/limits.h"

#include <cstddef>

#include "core/base/printable.h"

namespace tearline::job {

std::optional<std::string> fault_of_text(std::string_view text) {
    constexpr std::size_t longest = 200;  // [characters] what still has room on a template
    const std::size_t length = count_characters(text);
    if (length > longest)
        return "is " + std::to_string(length) + " characters long; at most " +
               std::to_string(longest) + " have room on paper";
    if (printable(text) != text) return "holds a character that cannot be printed; leave it out";
    return std::nullopt;
}

}  // namespace tearline::job
