#include <algorithm>
#include <cctype>
#include <optional>
#include <string>

#include "core/hull/mesh_file.h"
#include "core/hull/text_lines.h"

namespace tearline::hull {
namespace {

/// A line without its quotes, a decimal comma within two of them as a point: "1,5","2,5","3,5".
std::string unquoted(std::string_view line) {
    std::string out;
    while (!line.empty()) {
        const std::size_t begin = std::min(line.find('"'), line.size());
        out += line.substr(0, begin);
        line.remove_prefix(std::min(begin + 1, line.size()));
        const std::size_t end = std::min(line.find('"'), line.size());
        std::string within(line.substr(0, end));
        const bool number = within.find_first_not_of("+-0123456789,eE") == std::string::npos;
        if (number && std::count(within.begin(), within.end(), ',') == 1)
            within[within.find(',')] = '.';
        out += within;
        line.remove_prefix(std::min(end + 1, line.size()));
    }
    return out;
}

/// Columns that a line of names has before x, and the sign that parts them.
struct Before {
    int columns = 0;
    char parts = ' ';
};

/// Splits lines of coordinates, however they are separated.
class Fields {
public:
    explicit Fields(std::string_view line) : rest_(line) {
        // Parted by semicolons, or by blanks alone with a comma within each number ("1,5 2,5 3,5"),
        // a comma is a decimal one.
        decimal_comma_ = line.find(';') != std::string_view::npos || commas_within(line);
    }

    /// The next field; empty when there is none.
    std::string_view next() {
        const std::string_view parts = decimal_comma_ ? " \t;" : " \t,";
        const std::size_t start = rest_.find_first_not_of(parts);
        if (start == std::string_view::npos) return {};
        const std::size_t end = rest_.find_first_of(parts, start);
        const std::string_view field = rest_.substr(start, end - start);
        rest_ = end == std::string_view::npos ? std::string_view() : rest_.substr(end);
        return field;
    }

    /// Leaves columns out, empty ones too where signs part them.
    void skip(const Before& before) {
        const bool words =
            before.parts == ' ' || rest_.find(before.parts) == std::string_view::npos;
        for (int i = 0; i < before.columns; ++i)
            if (words)
                next();
            else
                rest_.remove_prefix(std::min(rest_.find(before.parts), rest_.size() - 1) + 1);
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
std::vector<std::string> column_names(std::string_view line, char parted_by) {
    const std::string_view parts = parted_by == ' ' ? " \t" : std::string_view(&parted_by, 1);
    std::vector<std::string> names;
    while (!line.empty()) {
        const std::size_t end = std::min(line.find_first_of(parts), line.size());
        std::string name(Fields(line.substr(0, end)).next());
        for (char& c : name) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        // Of blanks several are one.
        if (parted_by != ' ' || !name.empty()) names.push_back(std::move(name));
        line.remove_prefix(std::min(end + 1, line.size()));
    }
    return names;
}

/// What stands before x, by a line of names: as known before where none is named so; nothing where
/// y and z do not follow it.
std::optional<Before> before_x(std::string_view line, const Before& known) {
    const char parts = line.find(';') != std::string_view::npos   ? ';'
                       : line.find(',') != std::string_view::npos ? ','
                                                                  : ' ';
    const std::vector<std::string> names = column_names(line, parts);
    const auto x = std::find(names.begin(), names.end(), "x");
    if (x == names.end()) return known;
    if (names.end() - x < 3 || x[1] != "y" || x[2] != "z") return std::nullopt;
    return Before{static_cast<int>(x - names.begin()), parts};
}

/// The numbers a line has after those columns, three at most.
int leading_numbers(std::string_view line, const Before& before, Vec3& point) {
    Fields fields(line);
    fields.skip(before);
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
    int headings = 0;
    Before before;
    while (lines.next()) {
        std::string_view line = lines.whole();
        if (is_comment(line)) continue;
        std::string plain;
        if (line.find('"') != std::string_view::npos) line = plain = unquoted(line);
        Vec3 point;
        const int numbers = leading_numbers(line, before, point);
        // Before the points may stand what made them, a line of names, their units, or, in PTS
        // files, how many there are.
        if (scan.points.empty() && numbers <= 1 && headings++ < most_headings) {
            const auto named = before_x(line, before);
            if (!named)
                return model_error(file.path, "line " + std::to_string(lines.number()) +
                                                  ": names a column x, but y and z do not follow "
                                                  "it: save x, y, z side by side");
            before = *named;
            continue;
        }
        if (numbers < 3)
            return model_error(file.path,
                               "line " + std::to_string(lines.number()) + ": must " +
                                   (before.columns > 0 ? "have three numbers under x, y and z"
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
