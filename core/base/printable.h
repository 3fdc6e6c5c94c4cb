#pragma once
#include <cstddef>
#include <string>
#include <string_view>

namespace tearline {

/// Bytes of a file or a name as a person and a terminal can take them: what is no valid UTF-8,
/// controls, and what turns the way of reading over is written as \xNN or \u{N}.
///
/// @param lines  whether the ends of lines stay
[[nodiscard]] std::string printable(std::string_view bytes, bool lines = false);

/// The same text as valid UTF-8 without noncharacters (U+FFFE), which XML may not hold, and without
/// what would show the rest of a line the other way round: they become U+FFFD. Controls stay: each
/// format has its own way with them.
[[nodiscard]] std::string valid_text(std::string_view bytes);

/// How many characters the text has, invalid bytes counted one by one.
[[nodiscard]] std::size_t count_characters(std::string_view bytes);

}  // namespace tearline
