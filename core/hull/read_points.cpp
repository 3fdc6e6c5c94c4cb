#include <array>
#include <string>

#include "core/hull/mesh_file.h"
#include "core/hull/text_lines.h"

namespace tearline::hull {
namespace {

/// Splits lines of coordinates, however they are separated.
class Fields {
public:
    /// Whether a semicolon parts the fields, so that a comma is a decimal one.
    explicit Fields(std::string_view line) : rest_(line) {
        decimal_comma_ = line.find(';') != std::string_view::npos;
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

    bool next(double& value) {
        const std::string_view field = next();
        if (!decimal_comma_ || field.find(',') == std::string_view::npos)
            return read_word(field, value);
        std::string pointed(field);
        pointed[pointed.find(',')] = '.';
        return read_word(std::string_view(pointed), value);
    }

private:
    std::string_view rest_;
    bool decimal_comma_;
};

/// The numbers a line begins with, three at most.
int leading_numbers(std::string_view line, Vec3& point) {
    Fields fields(line);
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

}  // namespace

Result<RawMesh> read_points(const ModelFile& file) {
    RawMesh scan;
    scan.single_precision = false;
    TextLines lines(file.bytes);
    bool first = true;
    while (lines.next()) {
        const std::string_view line = lines.whole();
        if (is_comment(line)) continue;
        Vec3 point;
        const int numbers = leading_numbers(line, point);
        // Before the points may stand a line of names, or, in PTS files, how many there are.
        const bool heading = first && (numbers == 0 || numbers == 1);
        first = false;
        if (heading) continue;
        if (numbers < 3)
            return model_error(file.path, "line " + std::to_string(lines.number()) +
                                              ": must begin with three numbers, x y z");
        if (!point.allFinite())
            return model_error(file.path, "line " + std::to_string(lines.number()) +
                                              ": a coordinate that is no finite number");
        scan.points.push_back(point);
    }
    if (scan.points.empty()) return model_error(file.path, "it holds no point");
    return scan;
}

}  // namespace tearline::hull
