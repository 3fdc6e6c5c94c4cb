#include "core/base/printable.h"

#include <array>
#include <cstdint>
#include <cstdio>

namespace tearline {
namespace {

struct Character {
    std::uint32_t code = 0;
    std::size_t bytes = 1;
    bool valid = false;
};

/// The character that the text begins with.
/// @source  RFC 3629, section 4: neither longer than need be, nor a surrogate, nor over U+10FFFF
Character first_of(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const std::uint32_t lead = byte(0);
    if (lead < 0x80) return {lead, 1, true};
    const std::size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : lead >= 0xC2 ? 2 : 1;
    if (bytes == 1 || lead > 0xF4 || text.size() < bytes) return {lead, 1, false};
    std::uint32_t code = lead & (0xFFu >> (bytes + 1));
    for (std::size_t i = 1; i < bytes; ++i) {
        if ((byte(i) & 0xC0) != 0x80) return {lead, 1, false};
        code = (code << 6) | (byte(i) & 0x3F);
    }
    constexpr std::array<std::uint32_t, 5> least = {0, 0, 0x80, 0x800, 0x10000};
    if (code < least[bytes] || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF))
        return {lead, 1, false};
    return {code, bytes, true};
}

bool is_noncharacter(std::uint32_t code) {
    return (code & 0xFFFE) == 0xFFFE || (code >= 0xFDD0 && code <= 0xFDEF);
}

/// Shows what follows the other way round.
/// @source  Unicode Standard Annex 9, section 2: embeddings, overrides, isolates
bool turns_the_reading(std::uint32_t code) {
    return (code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
}

/// Moves a cursor, or the place where the next word is read.
bool acts_on_a_terminal(std::uint32_t code) {
    return code < 0x20 || (code >= 0x7F && code < 0xA0) || (code >= 0x200E && code <= 0x200F) ||
           (code >= 0x2028 && code <= 0x2029) || turns_the_reading(code) || is_noncharacter(code);
}

std::string in_hexadecimal(const char* form, std::uint32_t code) {
    std::array<char, 16> text{};
    std::snprintf(text.data(), text.size(), form, code);
    return text.data();
}

}  // namespace

std::string printable(std::string_view bytes, bool lines) {
    std::string out;
    while (!bytes.empty()) {
        const Character c = first_of(bytes);
        if (!c.valid)
            out += in_hexadecimal("\\x%02x", c.code);
        else if ((lines && c.code == '\n') || !acts_on_a_terminal(c.code))
            out += bytes.substr(0, c.bytes);
        else
            out += in_hexadecimal(c.code < 0x80 ? "\\x%02x" : "\\u{%x}", c.code);
        bytes.remove_prefix(c.bytes);
    }
    return out;
}

std::string valid_text(std::string_view bytes) {
    std::string out;
    while (!bytes.empty()) {
        const Character c = first_of(bytes);
        const bool stays = c.valid && !is_noncharacter(c.code) && !turns_the_reading(c.code);
        out += stays ? bytes.substr(0, c.bytes) : "\xEF\xBF\xBD";
        bytes.remove_prefix(c.bytes);
    }
    return out;
}

std::size_t count_characters(std::string_view bytes) {
    std::size_t count = 0;
    for (; !bytes.empty(); ++count) bytes.remove_prefix(first_of(bytes).bytes);
    return count;
}

}  // namespace tearline
