#include "core/formats/csv.h"

#include "core/base/printable.h"

namespace tearline::formats {

std::string csv_text(std::string_view text) {
    std::string cell = printable(text);
    if (!cell.empty() && std::string_view("=+-@").find(cell.front()) != std::string_view::npos)
        cell.insert(cell.begin(), '\'');
    if (cell.find_first_of(",\"") == std::string::npos) return cell;
    std::string quoted = "\"";
    for (const char c : cell) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    return quoted + "\"";
}

std::string csv_line(const std::vector<std::string>& cells) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i) line += (i > 0 ? "," : "") + cells[i];
    return line + "\r\n";
}

}  // namespace tearline::formats
