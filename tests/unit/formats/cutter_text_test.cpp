#include "core/formats/cutter_text.h"

#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

namespace tearline::formats {
namespace {

TEST(DxfText, LeavesPlainLettersAndEscapesTheRest) {
    // Code points by hand: ö U+00F6, Ж U+0416, € U+20AC.
    EXPECT_EQ(dxf_text("Bow 12 mm"), "Bow 12 mm");
    EXPECT_EQ(dxf_text("Möwe"), "M\\U+00F6we");
    EXPECT_EQ(dxf_text("Ж€"), "\\U+0416\\U+20AC");
}

TEST(DxfText, WritesWhatLiesBeyondTheBasicPlaneAsTwoUnits) {
    // U+26F5 is one unit; U+1F6A4, a speedboat, is D83D DEA4 in UTF-16 (Unicode, by hand).
    EXPECT_EQ(dxf_text("\u26f5"), "\\U+26F5");
    EXPECT_EQ(dxf_text("\U0001F6A4"), "\\U+D83D\\U+DEA4");
}

TEST(DxfText, MakesSpacesOfWhatWouldEndALine) {
    // A group's value is one line: a line end inside it would make a group code of the next.
    EXPECT_EQ(dxf_text("a\nb\r\tc\x7f"
                       "d"),
              "a b  c d");
}

TEST(DxfText, ReplacesBrokenBytesOneByOne) {
    // U+FFFD for each: a lone continuation, a lead without its letter, a cut at the end.
    EXPECT_EQ(dxf_text("a\x80"
                       "b"),
              "a\\U+FFFDb");
    EXPECT_EQ(dxf_text("\xC3("), "\\U+FFFD(");
    EXPECT_EQ(dxf_text("\xE2\x82"), "\\U+FFFD");
}

TEST(DxfText, EndsWithAWholeLetterWhereTheFormatHasNoMoreRoom) {
    // 255 bytes: 36 escapes of 7 are 252, one more would be 259; two units of a boat are 14 bytes.
    std::string cyrillic, boats;
    for (int i = 0; i < 100; ++i) cyrillic += "Ж", boats += "\U0001F6A4";
    EXPECT_EQ(dxf_text(cyrillic).size(), 36u * 7u);
    EXPECT_EQ(dxf_text("ab" + boats).size(), 2u + 18u * 14u);
    EXPECT_EQ(dxf_text(std::string(300, 'x')), std::string(255, 'x'));
    EXPECT_EQ(dxf_text(std::string(255, 'x')).size(), 255u);
}

TEST(PlainText, TakesTheLetterWithoutItsAccent) {
    // Expected letters: the base letters that Unicode decomposes these to; those without a
    // decomposition are the common stand-ins.
    const std::vector<std::pair<std::string, std::string>> known = {
        {"ÀÁÂÃÄÅ", "AAAAAA"}, {"ÇÈÉÊË", "CEEEE"},   {"ÌÍÎÏÑ", "IIIIN"},     {"ÒÓÔÕÖ", "OOOOO"},
        {"ÙÚÛÜÝ", "UUUUY"},   {"àáâãäå", "aaaaaa"}, {"çèéêë", "ceeee"},     {"ìíîïñ", "iiiin"},
        {"òóôõö", "ooooo"},   {"ùúûüýÿ", "uuuuyy"}, {"ØøÆæßÐð", "OoAasDd"}, {"Þþ×÷", "Ttx/"}};
    for (const auto& [text, plain] : known) EXPECT_EQ(plain_text(text), plain) << text;
}

TEST(PlainText, KeepsTheSignsOfASheet) {
    EXPECT_EQ(plain_text("0.02 m² · 30° – “5”…"), "0.02 m2 - 30o - \"5\".");
    EXPECT_EQ(plain_text("λ"), "?");
    EXPECT_EQ(plain_text("a\x03"
                         "b"),
              "a b")
        << "the sign that ends a plotter's text";
}

TEST(PlainText, IsAsciiWhateverComesIn) {
    // Every byte as the whole text and inside one: a plotter takes 32 to 126 alone.
    for (int byte = 1; byte < 256; ++byte)
        for (const std::string& text : {std::string(1, static_cast<char>(byte)),
                                        "a" + std::string(1, static_cast<char>(byte)) + "b"})
            for (const char c : plain_text(text)) EXPECT_TRUE(c >= 0x20 && c < 0x7F) << byte;
}

TEST(SymbolName, IsCapitalsDigitsDashAndUnderscore) {
    EXPECT_EQ(symbol_name("1A"), "1A");
    EXPECT_EQ(symbol_name("mat 450"), "MAT_450");
    EXPECT_EQ(symbol_name("house-made Möwe/2"), "HOUSE-MADE_MOWE_2");
    EXPECT_EQ(symbol_name(""), "PIECE") << "a block must have a name";
}

}  // namespace
}  // namespace tearline::formats
