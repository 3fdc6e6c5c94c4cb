#include "core/formats/json_number.h"

#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>

#include "core/formats/tolerances.h"

namespace tearline::formats {

namespace {

constexpr int significant_digits = 12;

/// Powers of ten that a double holds exactly.
constexpr std::array<double, 16> power_of_ten = {1.0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};

/// A positive number as digits with a point before one of them.
struct Digits {
    std::uint64_t all = 0;  ///< significant_digits of them; 0: not known for certain
    int exponent = 0;       ///< of ten, of the first digit
};

/// The digits where one product of doubles tells them: only what lies
/// nearly half way may have to be rounded the other way.
Digits digits_of(double number) {
    constexpr double least = 1e-4, most = 1e11;  // as many as the table serves
    if (!(number >= least && number < most)) return {};
    int exponent = number >= 1.0 ? 0 : -1;
    if (number >= 1.0)
        while (number >= power_of_ten[exponent + 1]) ++exponent;
    else
        while (number * power_of_ten[-exponent] < 1.0) --exponent;
    const double scaled = number * power_of_ten[significant_digits - 1 - exponent];
    const auto whole = static_cast<std::uint64_t>(scaled);
    const double part = scaled - static_cast<double>(whole);
    if (std::abs(part - 0.5) < tolerance::nearly_half) return {};
    const std::uint64_t all = part > 0.5 ? whole + 1 : whole;
    constexpr std::uint64_t from = 100'000'000'000, to = 10 * from;
    return all >= from && all < to ? Digits{all, exponent} : Digits{};
}

}  // namespace

char* write_number(char* to, double number) {
    const Digits digits = digits_of(std::abs(number));
    if (digits.all == 0)
        return std::to_chars(to, to + number_room, number == 0.0 ? 0.0 : number,
                             std::chars_format::general, significant_digits)
            .ptr;
    if (number < 0.0) *to++ = '-';
    std::array<char, significant_digits> text;
    std::uint64_t left = digits.all;
    for (int i = significant_digits; i-- > 0; left /= 10)
        text[i] = static_cast<char>('0' + left % 10);
    int count = significant_digits;
    while (text[count - 1] == '0') --count;
    for (int place = digits.exponent; place < 0; ++place) {
        *to++ = '0';
        if (place == digits.exponent) *to++ = '.';
    }
    const int before_point = digits.exponent + 1;
    for (int i = 0; i < count || i < before_point; ++i) {
        if (i > 0 && i == before_point) *to++ = '.';
        *to++ = text[i];
    }
    return to;
}

}  // namespace tearline::formats
