#include "core/formats/json_writer.h"

#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>

#include "core/base/printable.h"

namespace tearline::formats {

namespace {

/// Appends a quoted JSON string; control characters are escaped, UTF-8 passes through.
void append_quoted(std::string& out, std::string_view text) {
    out += '"';
    for (const char c : valid_text(text)) {
        switch (c) {
            case '"':
                out += "\\\"";
                break;
            case '\\':
                out += "\\\\";
                break;
            case '\n':
                out += "\\n";
                break;
            case '\t':
                out += "\\t";
                break;
            case '\r':
                out += "\\r";
                break;
            default:
                if (static_cast<unsigned char>(c) < 0x20) {
                    constexpr std::string_view digits = "0123456789abcdef";
                    out += "\\u00";
                    out += digits[(c >> 4) & 15];
                    out += digits[c & 15];
                } else {
                    out += c;
                }
        }
    }
    out += '"';
}

}  // namespace

void JsonWriter::separate() {
    if (after_key_) {
        after_key_ = false;
        return;
    }
    if (!first_) text_ += ',';
    if (new_line_) text_ += '\n';
    new_line_ = false;
    first_ = false;
}

JsonWriter& JsonWriter::open(char bracket) {
    separate();
    text_ += bracket;
    first_ = true;
    return *this;
}

JsonWriter& JsonWriter::close(char bracket) {
    if (new_line_) text_ += '\n';
    new_line_ = false;
    text_ += bracket;
    first_ = false;
    return *this;
}

JsonWriter& JsonWriter::line() {
    new_line_ = true;
    return *this;
}

JsonWriter& JsonWriter::key(std::string_view name) {
    separate();
    append_quoted(text_, name);
    text_ += ':';
    after_key_ = true;
    return *this;
}

JsonWriter& JsonWriter::raw(std::string_view json) {
    separate();
    text_ += json;
    return *this;
}

JsonWriter& JsonWriter::value(double number) {
    if (!std::isfinite(number)) throw std::logic_error("a number of the plan is not finite");
    constexpr int significant_digits = 12;
    std::array<char, 32> text;
    const auto end =
        std::to_chars(text.data(), text.data() + text.size(), number == 0.0 ? 0.0 : number,
                      std::chars_format::general, significant_digits);
    return raw(std::string_view(text.data(), end.ptr));
}

JsonWriter& JsonWriter::value(std::string_view text) {
    separate();
    append_quoted(text_, text);
    return *this;
}

JsonWriter& JsonWriter::value(const Vec2& point) {
    return begin_array().value(point.x()).value(point.y()).end_array();
}

JsonWriter& JsonWriter::value(const Vec3& point) {
    return begin_array().value(point.x()).value(point.y()).value(point.z()).end_array();
}

JsonWriter& JsonWriter::value(const Region3& region) {
    return begin_object().field("outer", region.outer).field("holes", region.holes).end_object();
}

}  // namespace tearline::formats
