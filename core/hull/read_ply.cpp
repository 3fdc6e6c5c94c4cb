#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <span>

#include "core/hull/cut_polygon.h"
#include "core/hull/mesh_file.h"
#include "core/hull/text_lines.h"

namespace tearline::hull {
namespace {

enum class Number { none, i8, u8, i16, u16, i32, u32, f32, f64 };

Number number_named(std::string_view name) {
    if (name == "char" || name == "int8") return Number::i8;
    if (name == "uchar" || name == "uint8") return Number::u8;
    if (name == "short" || name == "int16") return Number::i16;
    if (name == "ushort" || name == "uint16") return Number::u16;
    if (name == "int" || name == "int32") return Number::i32;
    if (name == "uint" || name == "uint32") return Number::u32;
    if (name == "float" || name == "float32") return Number::f32;
    if (name == "double" || name == "float64") return Number::f64;
    return Number::none;
}

struct Property {
    std::string name;
    Number count = Number::none;  ///< of a list; none for a single value
    Number value = Number::none;
};

struct Element {
    std::string name;
    std::uint64_t count = 0;
    std::vector<Property> properties;
};

enum class Coding { ascii, little, big };

struct Header {
    Coding coding = Coding::ascii;
    std::vector<Element> elements;
};

Result<Header> read_header(const ModelFile& file, TextLines& lines) {
    Header header;
    bool coded = false;
    while (lines.next()) {
        const auto fail = [&](const std::string& what) {
            return model_error(file.path, "line " + std::to_string(lines.number()) + ": " + what);
        };
        const std::string_view word = lines.word();
        if (word == "end_header") {
            if (!coded) return fail("the PLY header names no format");
            return header;
        }
        if (word == "format") {
            const std::string_view name = lines.word();
            coded = true;
            if (name == "ascii") {
                header.coding = Coding::ascii;
            } else if (name == "binary_little_endian") {
                header.coding = Coding::little;
            } else if (name == "binary_big_endian") {
                header.coding = Coding::big;
            } else {
                return fail("'" + std::string(name) + "' is no PLY format");
            }
        } else if (word == "element") {
            Element element;
            element.name = lines.word();
            if (!read_word(lines.word(), element.count)) return fail("an element without a count");
            header.elements.push_back(std::move(element));
        } else if (word == "property") {
            if (header.elements.empty()) return fail("a property before the first element");
            Property property;
            std::string_view type = lines.word();
            if (type == "list") {
                property.count = number_named(lines.word());
                if (property.count == Number::none) return fail("a list without a count type");
                type = lines.word();
            }
            property.value = number_named(type);
            property.name = lines.word();
            if (property.value == Number::none || property.name.empty()) {
                return fail("'" + std::string(type) + "' is no PLY number type");
            }
            header.elements.back().properties.push_back(std::move(property));
        }
    }
    return model_error(file.path, "the PLY header has no end_header; export the file again");
}

/// The values behind the header, one after another, in any of the three codings.
class Values {
public:
    Values(Coding coding, TextLines lines) : coding_(coding), lines_(lines), bytes_(lines.rest()) {}

    bool next(Number type, double& value) {
        return coding_ == Coding::ascii ? next_word(value) : next_bytes(type, value);
    }

private:
    bool next_word(double& value) {
        std::string_view word = lines_.word();
        while (word.empty()) {
            if (!lines_.next()) return false;
            word = lines_.word();
        }
        return read_word(word, value);
    }

    template <class T>
    bool take(double& value) {
        if (bytes_.size() < sizeof(T)) return false;
        char raw[sizeof(T)];
        std::memcpy(raw, bytes_.data(), sizeof(T));
        const bool swap = (coding_ == Coding::big) == (std::endian::native == std::endian::little);
        if (swap) std::reverse(raw, raw + sizeof(T));
        T number;
        std::memcpy(&number, raw, sizeof(T));
        value = static_cast<double>(number);
        bytes_.remove_prefix(sizeof(T));
        return true;
    }

    bool next_bytes(Number type, double& value) {
        switch (type) {
            case Number::i8:
                return take<std::int8_t>(value);
            case Number::u8:
                return take<std::uint8_t>(value);
            case Number::i16:
                return take<std::int16_t>(value);
            case Number::u16:
                return take<std::uint16_t>(value);
            case Number::i32:
                return take<std::int32_t>(value);
            case Number::u32:
                return take<std::uint32_t>(value);
            case Number::f32:
                return take<float>(value);
            case Number::f64:
                return take<double>(value);
            case Number::none:
                break;
        }
        return false;
    }

    Coding coding_;
    TextLines lines_;
    std::string_view bytes_;
};

/// Reads the elements in the order of the header into a mesh.
class PlyBody {
public:
    PlyBody(const ModelFile& file, const Header& header, const TextLines& lines)
        : file_(file), header_(header), values_(header.coding, lines) {}

    Result<RawMesh> read() {
        for (const Element& element : header_.elements) {
            // Every element takes a byte at least: a count beyond the file is a false one.
            if (element.count > file_.bytes.size()) return too_short(element, 0);
            for (std::uint64_t i = 0; i < element.count; ++i) {
                if (auto error = read_one(element, i)) return tl::unexpected(std::move(*error));
            }
            points_known_ = points_known_ || element.name == "vertex";
        }
        std::size_t start = 0;
        for (std::size_t i = 0; i < ends_.size(); ++i) {
            const std::span face(corners_.data() + start, ends_[i] - start);
            if (auto error = cut_face(face, i)) return tl::unexpected(std::move(*error));
            start = ends_[i];
        }
        return std::move(mesh_);
    }

private:
    tl::unexpected<Error> too_short(const Element& element, std::uint64_t index) const {
        return model_error(file_.path, "the PLY header says " + std::to_string(element.count) +
                                           " of element " + element.name + " but number " +
                                           std::to_string(index + 1) +
                                           " cannot be read: the file is cut short or damaged");
    }

    std::optional<Error> read_one(const Element& element, std::uint64_t index) {
        Vec3 point(0, 0, 0);
        const bool vertex = element.name == "vertex", face = element.name == "face";
        for (const Property& property : element.properties) {
            double count = 1.0;
            const bool list = property.count != Number::none;
            if (list && !values_.next(property.count, count)) {
                return too_short(element, index).value();
            }
            if (!(count >= 0.0) || count > static_cast<double>(file_.bytes.size())) {
                return too_short(element, index).value();
            }
            list_.clear();
            for (double k = 0.0; k < count; ++k) {
                double value = 0.0;
                if (!values_.next(property.value, value)) return too_short(element, index).value();
                list_.push_back(value);
            }
            if (vertex && !list && property.name.size() == 1) {
                const std::size_t axis = std::string_view("xyz").find(property.name);
                if (axis != std::string_view::npos) point[static_cast<int>(axis)] = list_.front();
                if (property.value == Number::f64) mesh_.single_precision = false;
            }
            if (face && list && property.name.starts_with("vertex_ind")) {
                if (auto error = add_face(index)) return error;
            }
        }
        if (vertex && !point.allFinite()) {
            return model_error(file_.path, "vertex " + std::to_string(index) +
                                               " has a coordinate that is no finite number")
                .value();
        }
        if (vertex) mesh_.points.push_back(point);
        return std::nullopt;
    }

    std::optional<Error> add_face(std::uint64_t index) {
        for (const double v : list_) {
            if (!(v >= 0.0) || v > static_cast<double>(file_.bytes.size())) {
                return model_error(file_.path, "face " + std::to_string(index) +
                                                   " names a vertex that does not exist")
                    .value();
            }
            corners_.push_back(static_cast<std::int32_t>(v));
        }
        if (points_known_) {
            auto error = cut_face(corners_, index);
            corners_.clear();
            return error;
        }
        ends_.push_back(corners_.size());
        return std::nullopt;
    }

    /// Cuts a face into triangles.
    std::optional<Error> cut_face(std::span<const std::int32_t> face, std::uint64_t index) {
        if (face.size() < 3) return std::nullopt;
        for (const std::int32_t v : face) {
            if (static_cast<std::size_t>(v) >= mesh_.points.size()) {
                return model_error(file_.path, "a face names vertex " + std::to_string(v) + " of " +
                                                   std::to_string(mesh_.points.size()))
                    .value();
            }
        }
        if (const auto why = cut_polygon(mesh_.points, face, mesh_.triangles)) {
            return model_error(file_.path, "face " + std::to_string(index) + ": " + *why).value();
        }
        return std::nullopt;
    }

    const ModelFile& file_;
    const Header& header_;
    Values values_;
    RawMesh mesh_;
    std::vector<double> list_;
    bool points_known_ = false;
    std::vector<std::int32_t> corners_;  ///< of faces that wait for their points, and of this one
    std::vector<std::size_t> ends_;      ///< of each face that waits, in corners_
};

}  // namespace

Result<RawMesh> read_ply(const ModelFile& file) {
    TextLines lines(file.bytes);
    const auto header = read_header(file, lines);
    if (!header) return tl::unexpected(header.error());
    return PlyBody(file, *header, lines).read();
}

}  // namespace tearline::hull
