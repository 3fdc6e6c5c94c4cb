#include "core/base/numbers.h"

#include <gtest/gtest.h>

#include <bit>
#include <clocale>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <random>

namespace tearline {
namespace {

constexpr double inf = std::numeric_limits<double>::infinity();

TEST(Fixed, KeepsItsPlacesAndRoundsToTheNearest) {
    // By hand; 0.125 and 2.5 stand exactly between two and go to the even one (IEEE 754).
    EXPECT_EQ(fixed(3.14159, 2), "3.14");
    EXPECT_EQ(fixed(2.0, 3), "2.000");
    EXPECT_EQ(fixed(1999.996, 2), "2000.00");
    EXPECT_EQ(fixed(0.125, 2), "0.12");
    EXPECT_EQ(fixed(0.375, 2), "0.38");
    EXPECT_EQ(fixed(2.5, 0), "2");
    EXPECT_EQ(fixed(1e21, 0), "1000000000000000000000");
}

TEST(Fixed, OfNothingHasNoSign) {
    EXPECT_EQ(fixed(-0.0, 1), "0.0");
    EXPECT_EQ(fixed(-0.004, 2), "0.00");
    EXPECT_EQ(fixed(-0.4, 0), "0");
    EXPECT_EQ(fixed(-0.006, 2), "-0.01");
    EXPECT_EQ(fixed(-10.0, 0), "-10");
}

TEST(Fixed, IsWhatThePrinterOfTheCLibraryWrites) {
    // Second route: printf in the C locale, for numbers of every size.
    std::mt19937 draw(20261129);
    std::uniform_real_distribution<double> size(-6.0, 9.0), part(-1.0, 1.0);
    for (int i = 0; i < 2000; ++i) {
        const double value = part(draw) * std::pow(10.0, size(draw));
        const int places = static_cast<int>(draw() % 8);
        std::array<char, 64> text{};
        std::snprintf(text.data(), text.size(), "%.*f", places, value);
        std::string wanted = text.data();
        if (wanted.find_first_of("123456789") == std::string::npos && wanted.front() == '-')
            wanted.erase(0, 1);
        EXPECT_EQ(fixed(value, places), wanted);
    }
}

TEST(Shortest, ReadsBackAsTheSameBits) {
    // Random bit patterns that are numbers: strtod of the C library reads the very double again.
    std::mt19937_64 draw(20261130);
    int count = 0;
    while (count < 3000) {
        const double value = std::bit_cast<double>(draw());
        if (!std::isfinite(value)) continue;
        ++count;
        const std::string text = shortest(value);
        EXPECT_EQ(std::bit_cast<std::uint64_t>(std::strtod(text.c_str(), nullptr)),
                  std::bit_cast<std::uint64_t>(value))
            << text;
        EXPECT_EQ(read_number(text), value);
    }
}

TEST(Shortest, HasNoDigitTooMany) {
    // By hand: the decimal that a person would write.
    EXPECT_EQ(shortest(0.1), "0.1");
    EXPECT_EQ(shortest(25.4), "25.4");
    EXPECT_EQ(shortest(1.0 / 3.0), "0.3333333333333333");
    EXPECT_EQ(shortest(100.0), "100");
    EXPECT_EQ(shortest(5e-324), "5e-324") << "the smallest double";
}

TEST(ReadNumber, TakesTheWholeTextOrNothing) {
    EXPECT_EQ(read_number("12.5"), 12.5);
    EXPECT_EQ(read_number("+3"), 3.0);
    EXPECT_EQ(read_number("-3e2"), -300.0);
    EXPECT_EQ(read_number(".5"), 0.5);
    for (const char* text :
         {"", "+", "-", " 1", "1 ", "1,5", "1.5.2", "0x10", "1e", "twelve", "++1", "1e999", "12mm"})
        EXPECT_FALSE(read_number(text)) << "'" << text << "'";
}

TEST(ReadNumber, PassesOnWhatIsNoFigureForItsCallersToRefuse) {
    EXPECT_EQ(read_number("inf"), inf);
    ASSERT_TRUE(read_number("nan"));
    EXPECT_TRUE(std::isnan(*read_number("nan")));
}

TEST(Numbers, DoNotListenToTheLocale) {
    // German writes 1,5: where that locale is installed, nothing changes.
    const std::string before = std::setlocale(LC_ALL, nullptr);
    const bool german = std::setlocale(LC_ALL, "de_DE.UTF-8") != nullptr;
    EXPECT_EQ(fixed(1234.5, 1), "1234.5") << german;
    EXPECT_EQ(shortest(1.5), "1.5");
    EXPECT_EQ(read_number("1.5"), 1.5);
    EXPECT_FALSE(read_number("1,5"));
    std::setlocale(LC_ALL, before.c_str());
}

}  // namespace
}  // namespace tearline
