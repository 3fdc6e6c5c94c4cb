#include "core/base/sheet_words.h"

#include <gtest/gtest.h>

#include <random>

namespace tearline {
namespace {

/// Letters of UTF-8 text: bytes that do not continue one.
std::size_t letters(const std::string& text) {
    std::size_t count = 0;
    for (const char c : text) count += (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;
    return count;
}

std::string joined(const std::vector<std::string>& lines) {
    std::string out;
    for (const std::string& line : lines) out += (out.empty() ? "" : " ") + line;
    return out;
}

TEST(Broken, KeepsEveryWordInOrderAndEachLineWithinItsRoom) {
    // Random words of one to nine letters, some of two bytes: nothing lost, nothing too wide, and
    // no line that would have had room for the first word of the next.
    std::mt19937 draw(20261129);
    for (int round = 0; round < 200; ++round) {
        std::string text;
        for (unsigned word = 0; word < 1 + draw() % 20; ++word) {
            if (word > 0) text += ' ';
            for (unsigned i = 0; i < 1 + draw() % 9; ++i) text += draw() % 4 == 0 ? "ö" : "n";
        }
        const std::size_t room = 9 + draw() % 20;
        const auto lines = broken(text, room);
        EXPECT_EQ(joined(lines), text);
        for (std::size_t i = 0; i < lines.size(); ++i) {
            EXPECT_LE(letters(lines[i]), room) << lines[i];
            if (i + 1 == lines.size()) continue;
            const std::string next = lines[i + 1].substr(0, lines[i + 1].find(' '));
            EXPECT_GT(letters(lines[i]) + 1 + letters(next), room) << lines[i] << " | " << next;
        }
    }
}

TEST(Broken, PartsAWordThatIsTooLongWithHyphens) {
    EXPECT_EQ(broken("a Dönaudampfschifffahrt b", 8),
              (std::vector<std::string>{"a", "Dönauda-", "mpfschi-", "fffahrt", "b"}));
}

TEST(Shortened, SaysWhereSomethingIsLeftOut) {
    EXPECT_EQ(shortened("Möwe", 4), "Möwe");
    EXPECT_EQ(shortened("Möwen", 4), "Möw…");
}

TEST(Broken, OfNothingIsNothing) {
    EXPECT_TRUE(broken("", 10).empty());
    EXPECT_TRUE(broken("  \n ", 10).empty());
}

TEST(Broken, TakesALineEndForASpace) {
    EXPECT_EQ(broken("one\ntwo", 20), std::vector<std::string>{"one two"});
}

TEST(NameLines, AreTwoAtMostAndSayWhenMoreWasLeftOut) {
    EXPECT_EQ(name_lines("Curlew 6 m workboat"), std::vector<std::string>{"Curlew 6 m workboat"});
    const auto two = name_lines("Curlew 6 m workboat, starboard side");
    ASSERT_EQ(two.size(), 2u);
    EXPECT_EQ(joined(two), "Curlew 6 m workboat, starboard side");
    const auto cut =
        name_lines("one long title of a job that nobody can put on two short lines at all");
    ASSERT_EQ(cut.size(), 2u);
    EXPECT_TRUE(cut.back().ends_with("…")) << cut.back();
    for (const std::string& line : two) EXPECT_LE(letters(line), 26u);
}

TEST(InCapitals, ChangesPlainLettersAlone) {
    EXPECT_EQ(in_capitals("bow, 12 mm Möwe"), "BOW, 12 MM MöWE");
}

TEST(QuarterWords, GoRoundCounterClockwise) {
    // right, top, left, bottom: a quarter turn each.
    EXPECT_EQ(quarter_words({"aft", "up", "bow", "down"}),
              "aft at 0°, up at 90°, bow at 180°, down at 270°");
}

TEST(GuideWords, SayWhatItIsOfWhichJobAndModel) {
    const auto words = guide_words("Curlew", "0123456789abcdef");
    const std::vector<std::string> wanted = {"GRIND GUIDE", "THIS FACE TOWARDS YOU", "Curlew",
                                             "model 01234567"};
    EXPECT_EQ(words, wanted);
}

}  // namespace
}  // namespace tearline
