#include "core/formats/json_number.h"

#include <gtest/gtest.h>

#include <array>
#include <charconv>
#include <cmath>
#include <random>
#include <string>

namespace tearline::formats {
namespace {

std::string written(double number) {
    std::array<char, number_room> text;
    return {text.data(), write_number(text.data(), number)};
}

/// The second way: what the standard library writes with 12 digits.
std::string by_the_library(double number) {
    std::array<char, 64> text;
    return {text.data(), std::to_chars(text.data(), text.data() + text.size(), number,
                                       std::chars_format::general, 12)
                             .ptr};
}

TEST(JsonNumber, IsWhatTheLibraryWrites) {
    std::mt19937 draw(20261130);
    std::uniform_real_distribution<double> size(-7.0, 14.0), part(-1.0, 1.0);
    for (int i = 0; i < 100'000; ++i) {
        const double number = part(draw) * std::pow(10.0, size(draw));
        ASSERT_EQ(written(number), by_the_library(number));
    }
}

TEST(JsonNumber, IsWhatTheLibraryWritesOfShortNumbersAndTheirNeighbours) {
    // Few digits, so that zeros end them, and the doubles on both sides: powers of ten, and halves
    // of the twelfth digit, which are rounded to even only where they are exact.
    for (int exponent = -8; exponent < 16; ++exponent)
        for (const double figure : {1.0, 2.5, 9.99, 9.99999999995, 9.9999999999995, 1.000000000005,
                                    1.23456789012500, 1.234567890135, 5.0, 7.77777777777}) {
            const double number = figure * std::pow(10.0, exponent);
            for (const double one :
                 {number, std::nextafter(number, 0.0), std::nextafter(number, 1e99)})
                for (const double sign : {1.0, -1.0})
                    ASSERT_EQ(written(sign * one), by_the_library(sign * one));
        }
    for (int i = 0; i < 4000; ++i) ASSERT_EQ(written(i / 16.0), by_the_library(i / 16.0));
    EXPECT_EQ(written(-0.0), "0");
    EXPECT_EQ(written(0.0001), "0.0001");
    EXPECT_EQ(written(123456789012.5), "123456789012");
    EXPECT_EQ(written(1e-300), "1e-300");
}

}  // namespace
}  // namespace tearline::formats
