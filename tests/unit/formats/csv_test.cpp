#include "core/formats/csv.h"

#include <gtest/gtest.h>

namespace tearline::formats {

// RFC 4180: what holds a comma or a quote is quoted, a quote is doubled, lines end in CR LF.
TEST(Csv, QuotesWhatHasTo) {
    EXPECT_EQ(csv_text("plain words"), "plain words");
    EXPECT_EQ(csv_text("a, b"), "\"a, b\"");
    EXPECT_EQ(csv_text("2\" pipe"), "\"2\"\" pipe\"");
    EXPECT_EQ(csv_line({"a", "", "c"}), "a,,c\r\n");
}

TEST(Csv, IsOneLineAndNoFormula) {
    EXPECT_EQ(csv_text("=HYPERLINK(1)"), "'=HYPERLINK(1)");
    for (const char* text : {"+1", "-1", "@a"}) EXPECT_EQ(csv_text(text).front(), '\'') << text;
    EXPECT_EQ(csv_text("a\nb\r").find_first_of("\r\n"), std::string::npos);
}

}  // namespace tearline::formats
