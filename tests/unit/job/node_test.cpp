#include "core/job/node.h"

#include <gtest/gtest.h>

#include "core/job/parse_toml.h"

namespace tearline::job {
namespace {

Node parsed(std::string_view text) {
    auto node = parse_toml(text, "job.toml");
    EXPECT_TRUE(node) << text;
    return node ? *node : Node{};
}

TEST(ParseToml, KeepsTheOrderOfTheFileAndTheLineOfEachKey) {
    const Node job =
        parsed("title = \"z\"\n\n[zebra]\nb = 1\na = [\n 2,\n 3]\n\n[ant]\nx = true\n");
    ASSERT_EQ(job.items.size(), 3u);
    EXPECT_EQ(job.items[0].key, "title");
    EXPECT_EQ(job.items[1].key, "zebra") << "as a person reads, not as the alphabet has it";
    EXPECT_EQ(job.items[2].key, "ant");
    const Node* zebra = job.find("zebra");
    ASSERT_NE(zebra, nullptr);
    EXPECT_EQ(zebra->items[0].key, "b");
    EXPECT_EQ(zebra->items[0].line, 4);
    EXPECT_EQ(zebra->items[1].line, 5) << "a long array stands where its key is";
    EXPECT_EQ(job.find("ant")->find("x")->line, 10);
}

TEST(ParseToml, TellsTheKindsApart) {
    const Node job =
        parsed("a = 1\nb = 1.0\nc = \"1\"\nd = false\ne = 2026-11-29\nf = {g = inf}\n");
    EXPECT_EQ(job.find("a")->kind, Node::Kind::number);
    EXPECT_TRUE(job.find("a")->integer);
    EXPECT_FALSE(job.find("b")->integer) << "with a point";
    EXPECT_EQ(job.find("b")->number, 1.0);
    EXPECT_EQ(job.find("c")->kind, Node::Kind::text);
    EXPECT_EQ(job.find("d")->kind, Node::Kind::boolean);
    EXPECT_FALSE(job.find("d")->truth);
    EXPECT_EQ(job.find("e")->kind, Node::Kind::time);
    EXPECT_EQ(job.find("f")->find("g")->kind, Node::Kind::number);
}

TEST(Find, IsForTablesAlone) {
    const Node job = parsed("a = [1, 2]\n");
    EXPECT_EQ(job.find("b"), nullptr);
    EXPECT_EQ(job.find("a")->find("1"), nullptr);
}

TEST(Shown, IsTheValueAsAPersonWritesIt) {
    // By hand.
    const Node job =
        parsed("a = 25.4\nb = \"mat 450\"\nc = [1, 2.5, \"x\"]\nd = {k = true}\ne = 2026-11-29\n");
    EXPECT_EQ(job.find("a")->shown(), "25.4");
    EXPECT_EQ(job.find("b")->shown(), "\"mat 450\"");
    EXPECT_EQ(job.find("c")->shown(), "[1, 2.5, \"x\"]");
    EXPECT_EQ(job.find("d")->shown(), "{k = true}");
    EXPECT_EQ(job.find("e")->shown(), "a date or time");
}

TEST(Shown, StaysShortHoweverMuchThereIs) {
    std::string text = "a = [";
    for (int i = 0; i < 1000; ++i) text += std::to_string(i) + ", ";
    const std::string shown =
        parsed(text + "1]\nb = \"" + std::string(5000, 'x') + "\"\n").items[0].shown();
    EXPECT_LE(shown.size(), 63u);
    EXPECT_TRUE(shown.ends_with("..."));
    EXPECT_TRUE(shown.starts_with("[0, 1, 2,"));
}

TEST(Quotable, EscapesControlSignsAndCutsAtWholeLetters) {
    EXPECT_EQ(quotable("a\nb\x7f"), "a\\x0ab\\x7f");
    EXPECT_EQ(quotable("short"), "short");
    // 31 letters of two bytes are 62 bytes: of 60 allowed none is cut in two.
    std::string umlauts;
    for (int i = 0; i < 31; ++i) umlauts += "ö";
    const std::string cut = quotable(umlauts, 59);
    EXPECT_TRUE(cut.ends_with("..."));
    EXPECT_EQ((cut.size() - 3) % 2, 0u) << "half an ö";
    EXPECT_LE(cut.size() - 3, 59u);
}

}  // namespace
}  // namespace tearline::job
