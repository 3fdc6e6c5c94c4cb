#include "core/base/numbers.h"

#include <array>
#include <charconv>
#include <stdexcept>

namespace tearline {

std::string fixed(double value, int decimals) {
    std::array<char, 400> text;
    const auto end = std::to_chars(text.data(), text.data() + text.size(), value,
                                   std::chars_format::fixed, decimals);
    if (end.ec != std::errc()) throw std::logic_error("number too long to write");
    std::string out(text.data(), end.ptr);
    // A rounded "-0.00" reads as a sign that means nothing.
    if (out.front() == '-' && out.find_first_of("123456789") == std::string::npos) out.erase(0, 1);
    return out;
}

std::string shortest(double value) {
    std::array<char, 64> text;
    const auto end = std::to_chars(text.data(), text.data() + text.size(), value);
    if (end.ec != std::errc()) throw std::logic_error("number too long to write");
    return {text.data(), end.ptr};
}

std::optional<double> read_number(std::string_view text) {
    if (!text.empty() && text.front() == '+') text.remove_prefix(1);
    double value = 0.0;
    const auto end = std::from_chars(text.data(), text.data() + text.size(), value);
    if (end.ec != std::errc() || end.ptr != text.data() + text.size()) return std::nullopt;
    return value;
}

}  // namespace tearline
