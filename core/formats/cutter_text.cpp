#include "core/formats/cutter_text.h"

#include <cctype>
#include <cstdint>
#include <vector>

namespace tearline::formats {

namespace {

/// Code points of UTF-8 text; a broken byte becomes the replacement character.
std::vector<std::uint32_t> code_points(std::string_view utf8) {
    std::vector<std::uint32_t> points;
    for (std::size_t i = 0; i < utf8.size();) {
        const auto lead = static_cast<unsigned char>(utf8[i++]);
        int more = lead >= 0xF0 ? 3 : lead >= 0xE0 ? 2 : lead >= 0xC0 ? 1 : 0;
        std::uint32_t point = lead < 0x80 ? lead : more == 0 ? 0xFFFD : lead & (0x3F >> more);
        for (; more > 0 && i < utf8.size() && (utf8[i] & 0xC0) == 0x80; --more)
            point = point << 6 | (static_cast<unsigned char>(utf8[i++]) & 0x3F);
        points.push_back(more == 0 ? point : 0xFFFD);
    }
    return points;
}

void append_escape(std::string& out, std::uint32_t unit) {
    constexpr std::string_view digits = "0123456789ABCDEF";
    out += "\\U+";
    for (int shift = 12; shift >= 0; shift -= 4) out += digits[(unit >> shift) & 15];
}

/// A letter as readers of DXF know it.
std::string dxf_letter(std::uint32_t point) {
    if (point < 0x20 || point == 0x7F) return " ";
    if (point < 0x7F) return {static_cast<char>(point)};
    std::string out;
    if (point < 0x10000) {
        append_escape(out, point);
    } else {
        append_escape(out, 0xD800 + ((point - 0x10000) >> 10));
        append_escape(out, 0xDC00 + ((point - 0x10000) & 0x3FF));
    }
    return out;
}

/// The letters U+00C0 to U+00FF without their accents.
constexpr std::string_view latin_letters =
    "AAAAAAACEEEEIIIIDNOOOOOxOUUUUYTsaaaaaaaceeeeiiiidnooooo/ouuuuyty";

char plain_letter(std::uint32_t point) {
    if (point >= 0x20 && point < 0x7F) return static_cast<char>(point);
    if (point >= 0xC0 && point <= 0xFF) return latin_letters[point - 0xC0];
    switch (point) {
        case 0xB2:
            return '2';
        case 0xB0:
            return 'o';
        case 0xB7:
        case 0x2013:
        case 0x2014:
            return '-';
        case 0x2018:
        case 0x2019:
            return '\'';
        case 0x201C:
        case 0x201D:
            return '"';
        case 0x2026:
            return '.';
        default:
            return point < 0x20 ? ' ' : '?';
    }
}

}  // namespace

std::string dxf_text(std::string_view utf8) {
    std::string out;
    for (const std::uint32_t point : code_points(utf8)) {
        const std::string letter = dxf_letter(point);
        if (out.size() + letter.size() > longest_dxf_text) break;
        out += letter;
    }
    return out;
}

std::string plain_text(std::string_view utf8) {
    std::string out;
    for (const std::uint32_t point : code_points(utf8)) out += plain_letter(point);
    return out;
}

std::string symbol_name(std::string_view text) {
    std::string out;
    for (const char c : plain_text(text)) {
        const bool known = std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_';
        out += known ? static_cast<char>(std::toupper(static_cast<unsigned char>(c))) : '_';
    }
    return out.empty() ? "PIECE" : out;
}

}  // namespace tearline::formats
