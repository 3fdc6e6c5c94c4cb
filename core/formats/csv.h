#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace tearline::formats {

/// Text as a cell of a table of comma-separated values (RFC 4180): quoted where it has to be. What
/// a spreadsheet would take for a formula gets a ' before it: names of files are anybody's.
[[nodiscard]] std::string csv_text(std::string_view text);

/// Cells as they are to stand, as one line with its end.
[[nodiscard]] std::string csv_line(const std::vector<std::string>& cells);

}  // namespace tearline::formats
