#include "core/formats/json_writer.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <stdexcept>

#include "core/base/printable.h"
#include "core/formats/json_number.h"

namespace tearline::formats {

namespace {

/// Whether text stands in JSON as it is, like nearly all of ours.
bool is_plain(std::string_view text) {
    return std::all_of(text.begin(), text.end(),
                       [](char c) { return c >= 0x20 && c < 0x7f && c != '"' && c != '\\'; });
}

/// Appends a quoted JSON string; control characters are escaped, UTF-8 passes through.
void append_quoted(std::string& out, std::string_view text) {
    out += '"';
    if (is_plain(text)) {
        out += text;
        out += '"';
        return;
    }
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

char* write_finite(char* to, double number) {
    if (!std::isfinite(number)) throw std::logic_error("a number of the plan is not finite");
    return write_number(to, number);
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
    std::array<char, number_room> text;
    return raw(std::string_view(text.data(), write_finite(text.data(), number)));
}

JsonWriter& JsonWriter::list(std::initializer_list<double> numbers) {
    constexpr std::size_t most = 3;
    std::array<char, most*(number_room + 1) + 1> text;
    char* end = text.data();
    for (const double number : numbers) {
        *end = end == text.data() ? '[' : ',';
        end = write_finite(end + 1, number);
    }
    *end++ = ']';
    return raw(std::string_view(text.data(), end));
}

JsonWriter& JsonWriter::value(std::string_view text) {
    separate();
    append_quoted(text_, text);
    return *this;
}

JsonWriter& JsonWriter::value(const Vec2& point) {
    return list({point.x(), point.y()});
}

JsonWriter& JsonWriter::value(const Vec3& point) {
    return list({point.x(), point.y(), point.z()});
}

JsonWriter& JsonWriter::value(const Region3& region) {
    return begin_object().field("outer", region.outer).field("holes", region.holes).end_object();
}

}  // namespace tearline::formats
