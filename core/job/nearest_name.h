#pragma once
#include <span>
#include <string>
#include <string_view>

namespace tearline::job {

/// Fewest single-character insertions, removals and replacements between two words.
[[nodiscard]] std::size_t edit_distance(std::string_view a, std::string_view b);

/// The known name nearest to a word by edit distance, the first of equals; empty without any.
[[nodiscard]] std::string nearest_name(std::string_view word,
                                       std::span<const std::string_view> known);

}  // namespace tearline::job
