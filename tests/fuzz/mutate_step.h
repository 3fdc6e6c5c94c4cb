#pragma once
#include <cctype>

#include "tests/fuzz/mutate.h"

namespace tearline::fuzz {

/// One change of a STEP file: a reference, a number, a kind, an argument or an instance, each put
/// in the place of another of its sort; IGES and BREP files have numbers changed.
inline std::string change_step(std::string text, Draw& draw) {
    static const std::vector<std::string> numbers = {
        "0.", "1.", "-1.",      "1.E-7",       "1.E+30", "-5000.", "3.14159", "6.E+03",
        "2",  "0",  "99999999", "-2147483648", "$",      "*",      ".T."};
    const auto word = [&](std::size_t at, const auto& belongs) {
        std::size_t end = at;
        while (end < text.size() && belongs(text[end])) ++end;
        return end - at;
    };
    const auto is_digit = [](char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; };
    const auto is_figure = [&](char c) {
        return is_digit(c) || c == '.' || c == '+' || c == '-' || c == 'E';
    };
    const auto is_name = [](char c) {
        return std::isupper(static_cast<unsigned char>(c)) != 0 || c == '_';
    };
    /// The next place from a random one where `begins` holds; the end when there is none.
    const auto somewhere = [&](const auto& begins) {
        for (std::size_t at = draw.below(text.size()); at < text.size(); ++at)
            if (begins(at)) return at;
        return text.size();
    };
    const auto at_reference = [&](std::size_t at) { return text[at] == '#'; };
    const auto at_number = [&](std::size_t at) {
        return at > 0 && is_figure(text[at]) &&
               (text[at - 1] == ',' || text[at - 1] == '(' || text[at - 1] == ' ');
    };
    const auto at_kind = [&](std::size_t at) {
        return at > 0 && is_name(text[at]) && text[at - 1] == '=';
    };
    switch (draw.below(5)) {
        case 0: {
            const std::size_t to = somewhere(at_reference), from = somewhere(at_reference);
            if (to == text.size() || from == text.size()) break;
            const std::string other = text.substr(from, 1 + word(from + 1, is_digit));
            text.replace(to, 1 + word(to + 1, is_digit), other);
            break;
        }
        case 1:
        case 2: {
            const std::size_t at = somewhere(at_number);
            if (at < text.size()) text.replace(at, word(at, is_figure), draw.of(numbers));
            break;
        }
        case 3: {
            const std::size_t to = somewhere(at_kind), from = somewhere(at_kind);
            if (to == text.size() || from == text.size()) break;
            const std::string other = text.substr(from, word(from, is_name));
            text.replace(to, word(to, is_name), other);
            break;
        }
        default: {
            const auto at_comma = [&](std::size_t at) { return text[at] == ','; };
            const std::size_t at = somewhere(at_comma);
            if (at == text.size()) break;
            const std::size_t end = text.find_first_of(",);", at + 1);
            if (end == std::string::npos) break;
            if (draw.below(2) == 0)
                text.erase(at, end - at);
            else
                text.insert(at, text.substr(at, end - at));
        }
    }
    return text;
}

}  // namespace tearline::fuzz
