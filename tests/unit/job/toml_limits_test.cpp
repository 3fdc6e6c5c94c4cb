#include "core/job/toml_limits.h"

#include <gtest/gtest.h>

#include <string>

namespace tearline::job {
namespace {

std::string dotted(int parts) {
    std::string key = "a";
    for (int i = 1; i < parts; ++i) key += ".a";
    return key;
}

TEST(TomlLimits, LetAJobFileThrough) {
    EXPECT_FALSE(too_much_for_a_job(""));
    EXPECT_FALSE(too_much_for_a_job("[hull]\nmodel = \"a.b.c.step\"\nbow = [1.0, 0.0, 0.0]\n"));
    EXPECT_FALSE(too_much_for_a_job(std::string(1u << 20u, '#'))) << "just as many bytes as may be";
}

TEST(TomlLimits, RefuseAFileThatIsAModel) {
    const auto excess = too_much_for_a_job(std::string((1u << 20u) + 1, '#'));
    ASSERT_TRUE(excess);
    EXPECT_EQ(excess->line, 1);
    EXPECT_NE(excess->message.find("1048577 bytes"), std::string::npos) << excess->message;
}

TEST(TomlLimits, RefuseAKeyOfTooManyPartsWithItsLine) {
    // 33 parts have 32 dots, which is the most.
    EXPECT_FALSE(too_much_for_a_job(dotted(33) + " = 1\n"));
    const auto excess = too_much_for_a_job("b = 1\n\n" + dotted(34) + " = 1\n");
    ASSERT_TRUE(excess);
    EXPECT_EQ(excess->line, 3);
    EXPECT_TRUE(too_much_for_a_job("[" + dotted(40) + "]\n"));
    EXPECT_TRUE(too_much_for_a_job("x = {" + dotted(40) + " = 1}\n"));
}

TEST(TomlLimits, CountNoDotsOfTextNumbersAndComments) {
    const std::string dots(50, '.');
    EXPECT_FALSE(too_much_for_a_job("a = \"" + dots + "\"\n"));
    EXPECT_FALSE(too_much_for_a_job("a = '" + dots + "'\n"));
    EXPECT_FALSE(too_much_for_a_job("a = \"\"\"\n" + dots + "\n" + dots + "\"\"\"\n"));
    EXPECT_FALSE(too_much_for_a_job("a = \"quote \\\" " + dots + "\"\n"));
    EXPECT_FALSE(too_much_for_a_job("a = 1 # " + dots + "\n"));
    std::string numbers = "a = [";
    for (int i = 0; i < 60; ++i) numbers += "1.5, ";
    EXPECT_FALSE(too_much_for_a_job(numbers + "]\n")) << "each number has a dot of its own";
}

TEST(TomlLimits, FindTheKeyBehindTextThatLooksLikeAnEnd) {
    // Strings that must be skipped whole, lines counted on: the key stands on line 5.
    const std::string text =
        "a = '''one\n\"two\nthree'''\nb = \"# no comment\"\n" + dotted(50) + " = 1\n";
    const auto excess = too_much_for_a_job(text);
    ASSERT_TRUE(excess);
    EXPECT_EQ(excess->line, 5);
}

TEST(TomlLimits, EndOnTextThatNeverCloses) {
    for (const char* text : {"a = \"", "a = '''", "a = \"\\", "a = \"\"\"\n\n", "'"})
        EXPECT_FALSE(too_much_for_a_job(text)) << text;
}

// TOML 1.0.0, Keys: a bare key has ASCII letters alone; a text and a comment may have any.
TEST(TomlLimits, RefuseALetterOutsideQuotesWithItsLineAndTheLetter) {
    for (const std::string letter : {"é", "ö", "Ж", "ґ", "。", "ﷲ", "\u00A0"}) {
        const auto excess = too_much_for_a_job("a = 1\n" + letter + " = 2\n");
        ASSERT_TRUE(excess) << letter;
        EXPECT_EQ(excess->line, 2);
        EXPECT_NE(excess->message.find('"' + letter + '"'), std::string::npos) << excess->message;
        EXPECT_TRUE(too_much_for_a_job("a = 1 " + letter + "\n")) << letter;
        EXPECT_TRUE(too_much_for_a_job("a = \"\"" + letter)) << letter;
        EXPECT_FALSE(too_much_for_a_job("a = \"" + letter + "\" # " + letter + "\n")) << letter;
        EXPECT_FALSE(too_much_for_a_job("a = '" + letter + "'\n'" + letter + "' = 1")) << letter;
        EXPECT_FALSE(too_much_for_a_job("a = '''\n" + letter + "'''\n")) << letter;
    }
    EXPECT_FALSE(too_much_for_a_job("\xEF\xBB\xBF[hull]\n")) << "what an editor puts in front";
    EXPECT_FALSE(too_much_for_a_job("a = \xC3(\n")) << "no letter: the parser says so";
}

TEST(TomlLimits, RefuseALetterThatABackslashLeadsTo) {
    const auto excess = too_much_for_a_job("a = \"\"\"b \\\n\n  \té\"\"\"\n");
    ASSERT_TRUE(excess);
    EXPECT_EQ(excess->line, 3);
    EXPECT_TRUE(too_much_for_a_job("a = \"\"\"\\é\"\"\"\n"));
    EXPECT_FALSE(too_much_for_a_job("a = \"\"\"b \\\n  cé\"\"\"\n"));
    EXPECT_FALSE(too_much_for_a_job("a = \"\"\"\\\\é\"\"\"\n")) << "a backslash of its own";
    EXPECT_FALSE(too_much_for_a_job("a = \"\"\"\\\n\"\"\"\nb = \"é\"\n"));
    EXPECT_FALSE(too_much_for_a_job("a = '''\\\né'''\n")) << "no backslash of meaning";
}

}  // namespace
}  // namespace tearline::job
