#include <algorithm>
#include <cctype>
#include <string>

#include "core/hull/mesh_file.h"
#include "core/hull/text_lines.h"

namespace tearline::hull {
namespace {

/// Splits lines of coordinates, however they are separated.
class Fields {
public:
    explicit Fields(std::string_view line) : rest_(line) {
        // Parted by semicolons, or by blanks alone with a comma within each number ("1,5 2,5 3,5"),
        // a comma is a decimal one.
        decimal_comma_ = line.find(';') != std::string_view::npos || commas_within(line);
    }

    /// The next field without quotes about it; empty when there is none.
    std::string_view next() {
        const std::string_view parts = decimal_comma_ ? " \t;\"" : " \t,\"";
        const std::size_t start = rest_.find_first_not_of(parts);
        if (start == std::string_view::npos) return {};
        const std::size_t end = rest_.find_first_of(parts, start);
        const std::string_view field = rest_.substr(start, end - start);
        rest_ = end == std::string_view::npos ? std::string_view() : rest_.substr(end);
        return field;
    }

    bool next(double& value) {
        const std::string_view field = next();
        if (!decimal_comma_ || field.find(',') == std::string_view::npos)
            return read_word(field, value);
        std::string pointed(field);
        pointed[pointed.find(',')] = '.';
        return read_word(std::string_view(pointed), value);
    }

private:
    /// Three words with a comma at most within each, and no point.
    static bool commas_within(std::string_view line) {
        constexpr std::string_view blanks = " \t";
        for (int word = 0; word < 3; ++word) {
            line.remove_prefix(std::min(line.find_first_not_of(blanks), line.size()));
            const std::string_view one = line.substr(0, line.find_first_of(blanks));
            if (one.empty() || one.front() == ',' || one.back() == ',') return false;
            const auto commas = std::count(one.begin(), one.end(), ',');
            if (commas > 1 || (commas == 1 && one.find('.') != std::string_view::npos))
                return false;
            line.remove_prefix(one.size());
        }
        return true;
    }

    std::string_view rest_;
    bool decimal_comma_ = false;
};

/// The names of columns, in small letters, of each the first word: "Point ID;X [m]" is point, x.
std::vector<std::string> column_names(std::string_view line) {
    const char* const parts = line.find(';') != std::string_view::npos   ? ";"
                              : line.find(',') != std::string_view::npos ? ","
                                                                         : " \t";
    std::vector<std::string> names;
    while (!line.empty()) {
        const std::size_t end = std::min(line.find_first_of(parts), line.size());
        std::string name(Fields(line.substr(0, end)).next());
        for (char& c : name) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        names.push_back(std::move(name));
        line.remove_prefix(std::min(end + 1, line.size()));
    }
    return names;
}

/// Which of the columns is x, by a line of names: the one known before where none is named so; -1
/// where y and z do not follow it.
int column_of_x(std::string_view line, int before) {
    const std::vector<std::string> names = column_names(line);
    const auto x = std::find(names.begin(), names.end(), "x");
    if (x == names.end()) return before;
    if (names.end() - x < 3 || x[1] != "y" || x[2] != "z") return -1;
    return static_cast<int>(x - names.begin());
}

/// The numbers a line has after those fields, three at most.
int leading_numbers(std::string_view line, int skipped, Vec3& point) {
    Fields fields(line);
    for (int i = 0; i < skipped; ++i) fields.next();
    int count = 0;
    while (count < 3 && fields.next(point[count])) ++count;
    return count;
}

bool is_comment(std::string_view line) {
    const std::size_t start = line.find_first_not_of(" \t");
    if (start == std::string_view::npos) return true;
    const std::string_view text = line.substr(start);
    return text.starts_with('#') || text.starts_with("//");
}

/// What some programs write before the first line of a text.
std::string_view without_mark(std::string_view text) {
    constexpr std::string_view mark = "\xEF\xBB\xBF";
    if (text.starts_with(mark)) text.remove_prefix(mark.size());
    return text;
}

}  // namespace

Result<RawMesh> read_points(const ModelFile& file) {
    RawMesh scan;
    scan.single_precision = false;
    TextLines lines(without_mark(file.bytes));
    constexpr int most_headings = 3;
    int headings = 0, skipped = 0;
    while (lines.next()) {
        const std::string_view line = lines.whole();
        if (is_comment(line)) continue;
        Vec3 point;
        const int numbers = leading_numbers(line, skipped, point);
        // Before the points may stand what made them, a line of names, their units, or, in PTS
        // files, how many there are.
        if (scan.points.empty() && numbers <= 1 && headings++ < most_headings) {
            skipped = column_of_x(line, skipped);
            if (skipped < 0)
                return model_error(file.path, "line " + std::to_string(lines.number()) +
                                                  ": names a column x, but y and z do not follow "
                                                  "it: save x, y, z side by side");
            continue;
        }
        if (numbers < 3)
            return model_error(file.path, "line " + std::to_string(lines.number()) + ": must " +
                                              (skipped > 0 ? "have three numbers under x, y and z"
                                                           : "begin with three numbers, x y z"));
        if (!point.allFinite())
            return model_error(file.path, "line " + std::to_string(lines.number()) +
                                              ": a coordinate that is no finite number");
        scan.points.push_back(point);
    }
    if (scan.points.empty()) return model_error(file.path, "it holds no point");
    return scan;
}

}  // namespace tearline::hull
