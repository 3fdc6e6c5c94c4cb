#include "core/hull/model_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <cstring>
#include <string_view>

#include "core/base/file_stamp.h"
#include "core/base/printable.h"

namespace tearline::hull {
namespace {

constexpr std::size_t stl_header = 84, stl_facet = 50;  // [bytes] of the binary kind
constexpr std::size_t head_size = 1024;                 // [bytes] looked at to know a format

std::string lower_ending(const std::filesystem::path& path) {
    std::string ending = path.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return ending;
}

std::string_view without_space_in_front(std::string_view text) {
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
    const std::size_t start = text.find_first_not_of(" \t\r\n");
    return start == std::string_view::npos ? std::string_view() : text.substr(start);
}

bool size_fits_binary_stl(const std::string& bytes) {
    if (bytes.size() < stl_header) return false;
    std::uint32_t count = 0;
    std::memcpy(&count, bytes.data() + stl_header - sizeof count, sizeof count);
    return bytes.size() - stl_header == std::uint64_t{count} * stl_facet;
}

bool looks_binary(std::string_view head) {
    return head.find('\0') != std::string_view::npos;
}

/// What the first bytes say; "" when they fit none of the kinds with a signature.
std::string kind_of_bytes(const std::string& bytes) {
    const std::string_view head = without_space_in_front(
        std::string_view(bytes).substr(0, std::min(bytes.size(), head_size)));
    if (head.starts_with("ISO-10303-21")) return "STEP";
    if (head.starts_with("ply")) return "PLY";
    if (head.starts_with("DBRep_DrawableShape") || head.starts_with("CASCADE Topology")) {
        return "BREP";
    }
    if (head.starts_with("solid") && !looks_binary(head)) return "STL";
    // IGES: fixed lines of 80 columns, the section letter in column 73, then the line number.
    if (bytes.size() > 80 && bytes[72] == 'S' && bytes[79] == '1') return "IGES";
    if (size_fits_binary_stl(bytes)) return "STL";
    return "";
}

Result<ModelFormat> format_of(const std::filesystem::path& path, const std::string& bytes) {
    const std::string ending = lower_ending(path);
    const std::string kind = kind_of_bytes(bytes);
    const auto refuse = [&](const std::string& wanted) {
        const std::string is = kind.empty() ? "not" : "of kind " + kind + ", not";
        return model_error(path, "the content is " + is + " " + wanted + " as the ending " +
                                     ending + " says; export it again or give it its right ending");
    };
    if (ending == ".step" || ending == ".stp") {
        if (kind != "STEP") return refuse("STEP");
        return ModelFormat::step;
    }
    if (ending == ".iges" || ending == ".igs") {
        if (kind != "IGES") return refuse("IGES");
        return ModelFormat::iges;
    }
    if (ending == ".brep" || ending == ".brp") {
        if (kind != "BREP") return refuse("BREP");
        return ModelFormat::brep;
    }
    if (ending == ".ply") {
        if (kind != "PLY") return refuse("PLY");
        return ModelFormat::ply;
    }
    if (ending == ".obj") {
        if (!kind.empty() || looks_binary(std::string_view(bytes).substr(0, head_size))) {
            return refuse("OBJ");
        }
        return ModelFormat::obj;
    }
    if (ending == ".stl") {
        if (!kind.empty() && kind != "STL") return refuse("STL");
        const std::string_view head = std::string_view(bytes).substr(0, head_size);
        const bool text = without_space_in_front(head).starts_with("solid") && !looks_binary(head);
        return text && !size_fits_binary_stl(bytes) ? ModelFormat::stl_ascii
                                                    : ModelFormat::stl_binary;
    }
    if (ending == ".xyz" || ending == ".pts" || ending == ".csv") {
        if (!kind.empty() || looks_binary(std::string_view(bytes).substr(0, head_size))) {
            return refuse("text with a point a line,");
        }
        return ModelFormat::points;
    }
    if (ending == ".e57" || ending == ".las" || ending == ".laz") {
        return model_error(path,
                           "files of this kind cannot be read; save the points as PLY (binary "
                           "is best) and name that file");
    }
    return model_error(path, "the ending '" + ending +
                                 "' is none that can be read: use .step .stp .iges .igs .brep .stl "
                                 ".obj or .ply, or, for the points of a scan, .xyz .pts or .csv");
}

/// A file that is closed at the end of its scope.
struct Opened {
    int number;
    ~Opened() {
        if (number >= 0) close(number);
    }
};

/// All that the file had when it was opened; fewer where it ends before.
std::string read_all(const Opened& file, std::size_t size) {
    std::string bytes(size, '\0');
    std::size_t done = 0;
    while (done < size) {
        const ssize_t got = read(file.number, bytes.data() + done, size - done);
        if (got == 0 || (got < 0 && errno != EINTR)) break;
        if (got > 0) done += static_cast<std::size_t>(got);
    }
    bytes.resize(done);
    return bytes;
}

Result<std::string> bytes_of(const std::filesystem::path& path) {
    // A pipe put there meanwhile would wait for its writer.
    const Opened file{open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY)};
    struct stat before {
    }, after{};
    if (file.number < 0 || fstat(file.number, &before) != 0)
        return model_error(path, "the file may not be read; check its permissions");
    if (!S_ISREG(before.st_mode))
        return model_error(path, "this is not a file; name the model itself");
    if (static_cast<std::uintmax_t>(before.st_size) > largest_model_file)
        return model_error(path,
                           "the file is over 4 GB: export the hull's surface alone, or coarser");
    std::string bytes = read_all(file, static_cast<std::size_t>(before.st_size));
    // Half of one hull and half of another, or of none, may make sense to a reader.
    if (fstat(file.number, &after) != 0 || stamp_of(before) != stamp_of(after))
        return model_error(path,
                           "the file was changed while it was read: run again once it is written");
    if (bytes.size() != static_cast<std::size_t>(before.st_size))
        return model_error(path, "the file cannot be read to its end");
    return bytes;
}

}  // namespace

bool knows_its_unit(ModelFormat format) {
    return format == ModelFormat::step || format == ModelFormat::iges ||
           format == ModelFormat::brep;
}

std::string format_name(ModelFormat format) {
    switch (format) {
        case ModelFormat::step:
            return "STEP";
        case ModelFormat::iges:
            return "IGES";
        case ModelFormat::brep:
            return "BREP";
        case ModelFormat::stl_ascii:
            return "STL (text)";
        case ModelFormat::stl_binary:
            return "STL (binary)";
        case ModelFormat::obj:
            return "OBJ";
        case ModelFormat::ply:
            return "PLY";
        case ModelFormat::points:
            return "points";
    }
    throw std::logic_error("format_name: no such format");
}

Result<ModelFile> read_model_file(const std::filesystem::path& path) {
    std::error_code code;
    const auto status = std::filesystem::status(path, code);
    if (!std::filesystem::exists(status)) {
        return model_error(path, "there is no such file");
    }
    if (!std::filesystem::is_regular_file(status)) {
        return model_error(path, "this is not a file; name the model itself");
    }
    auto bytes = bytes_of(path);
    if (!bytes) return tl::unexpected(bytes.error());
    ModelFile file{path, *std::move(bytes), ModelFormat::step};
    if (without_space_in_front(file.bytes).empty()) {
        return model_error(path, "the file is empty; export the model again");
    }
    const auto format = format_of(path, file.bytes);
    if (!format) return tl::unexpected(format.error());
    file.format = *format;
    return file;
}

tl::unexpected<Error> model_error(const std::filesystem::path& path, const std::string& what) {
    return bad_input("hull.model", printable(path.string()) + ": " + what);
}

}  // namespace tearline::hull
