#include "core/base/printable.h"

#include <gtest/gtest.h>

namespace tearline {

TEST(Printable, LeavesWhatAPersonWrites) {
    for (const char* text : {"", "Möwe 6 m – Rümpf", "漁船", "a\\b", "🚤"}) {
        EXPECT_EQ(printable(text), text);
        EXPECT_EQ(valid_text(text), text);
    }
}

TEST(Printable, EscapesWhatATerminalWouldObey) {
    EXPECT_EQ(printable("\x1b[2J"), "\\x1b[2J");
    EXPECT_EQ(printable(std::string_view("a\0b\x7f", 4)), "a\\x00b\\x7f");
    EXPECT_EQ(printable("\xC2\x9B"), "\\u{9b}") << "a control sequence in one character";
    EXPECT_EQ(printable("\xE2\x80\xAE"), "\\u{202e}") << "right to left from here";
    EXPECT_EQ(printable("a\nb"), "a\\x0ab");
    EXPECT_EQ(printable("a\nb\r", true), "a\nb\\x0d");
}

TEST(Printable, KnowsInvalidUtf8) {
    // RFC 3629: overlong, a surrogate, over U+10FFFF, cut short, a byte that begins nothing.
    EXPECT_EQ(printable("\xC0\xAF"), "\\xc0\\xaf");
    EXPECT_EQ(printable("\xE0\x80\xAF"), "\\xe0\\x80\\xaf");
    EXPECT_EQ(printable("\xED\xA0\x80"), "\\xed\\xa0\\x80");
    EXPECT_EQ(printable("\xF4\x90\x80\x80"), "\\xf4\\x90\\x80\\x80");
    EXPECT_EQ(printable("\xF5x"), "\\xf5x");
    EXPECT_EQ(printable("x\xE2\x82"), "x\\xe2\\x82");
    EXPECT_EQ(printable("\xFFx"), "\\xffx");
    EXPECT_EQ(valid_text("\xC3(\xFF"), "\xEF\xBF\xBD(\xEF\xBF\xBD");
}

TEST(Printable, KeepsOutOfXmlWhatItMayNotHold) {
    // XML 1.0, production 2: no U+FFFE, no U+FFFF. Controls are left to the formats.
    EXPECT_EQ(valid_text("a\tb\nc\x01"), "a\tb\nc\x01");
    EXPECT_EQ(valid_text("\xEF\xBF\xBE\xEF\xBF\xBF"), "\xEF\xBF\xBD\xEF\xBF\xBD");
    EXPECT_EQ(valid_text("\xEF\xBF\xBC"), "\xEF\xBF\xBC") << "U+FFFC may stand";
}

TEST(Printable, LetsNothingBeReadTheOtherWayRound) {
    // Unicode Standard Annex 9, section 2: U+202A to U+202E, U+2066 to U+2069; a mark of direction
    // (U+200F) turns no letter.
    EXPECT_EQ(valid_text("a\xE2\x80\xAEsm"), "a\xEF\xBF\xBDsm");
    EXPECT_EQ(valid_text("\xE2\x81\xA6\xE2\x81\xA9"), "\xEF\xBF\xBD\xEF\xBF\xBD");
    EXPECT_EQ(valid_text("\xE2\x80\x8F"), "\xE2\x80\x8F");
}

TEST(Printable, CountsCharactersAndNotBytes) {
    EXPECT_EQ(count_characters("Möwe"), 4u);
    EXPECT_EQ(count_characters("🚤🚤"), 2u);
    EXPECT_EQ(count_characters("\xFF\xFE"), 2u);
}

}  // namespace tearline
