#include "core/serve/message.h"

#include <gtest/gtest.h>

#include <random>
#include <sstream>
#include <string>
#include <vector>

namespace tearline::serve {
namespace {

using Kind = Incoming::Kind;

TEST(Message, ReadsBackWhatItWrote) {
    std::stringstream pipe;
    const std::string body("a\nb\0c", 5);  // a body may hold anything
    write_message(pipe, {R"({"id":7,"request":"plan"})", body});
    write_message(pipe, {R"({"id":8})", ""});
    const Incoming first = read_message(pipe);
    ASSERT_EQ(first.kind, Kind::message);
    EXPECT_EQ(first.message.header, R"({"id":7,"request":"plan","bytes":5})");
    EXPECT_EQ(first.message.body, body);
    EXPECT_EQ(read_message(pipe).message.header, R"({"id":8,"bytes":0})");
    EXPECT_EQ(read_message(pipe).kind, Kind::end);
}

TEST(Message, GoesOnAfterALineThatIsNoHeader) {
    std::stringstream pipe(
        "garbage\n[1, 2]\n{\"id\": 1}\n{\"bytes\": -4}\n{\"bytes\": \"4\"}\n{\"bytes\": 2}\nhi");
    for (int i = 0; i < 5; ++i) {
        const Incoming bad = read_message(pipe);
        EXPECT_EQ(bad.kind, Kind::malformed) << i;
        EXPECT_FALSE(bad.complaint.empty());
    }
    EXPECT_EQ(read_message(pipe).message.body, "hi");
}

TEST(Message, RefusesABodyBeyondTheLimitWithoutAllocatingIt) {
    std::stringstream pipe("{\"bytes\": 18446744073709551615}\nx");
    EXPECT_EQ(read_message(pipe).kind, Kind::broken);
    std::stringstream small("{\"bytes\": 11}\nhello world");
    MessageLimits limits;
    limits.body_bytes = 10;
    EXPECT_EQ(read_message(small, limits).kind, Kind::broken);
}

TEST(Message, SaysWhenABodyIsCutShort) {
    std::stringstream pipe("{\"bytes\": 12}\nhello");
    const Incoming cut = read_message(pipe);
    EXPECT_EQ(cut.kind, Kind::broken);
    EXPECT_NE(cut.complaint.find("ended"), std::string::npos);
}

TEST(Message, SkipsAnOverlongHeaderToItsEnd) {
    MessageLimits limits;
    limits.header_bytes = 20;
    std::stringstream pipe(std::string(1000, 'x') + "\n{\"bytes\": 1}\ny");
    EXPECT_EQ(read_message(pipe, limits).kind, Kind::malformed);
    EXPECT_EQ(read_message(pipe, limits).message.body, "y");
}

TEST(Message, ManyOfThemInAnyPiecesComeThroughWhole) {
    // Random headers and bodies of any bytes, written one after the other; read back one by one.
    std::mt19937 draw(20261129);
    std::stringstream pipe;
    std::vector<Message> said;
    for (int i = 0; i < 200; ++i) {
        std::string body(draw() % 3000, '\0');
        for (char& c : body) c = static_cast<char>(draw());
        said.push_back({"{\"id\":" + std::to_string(i) + ",\"name\":\"\\u00fc \\n\"}", body});
        write_message(pipe, said.back());
    }
    for (const Message& wanted : said) {
        const Incoming got = read_message(pipe);
        ASSERT_EQ(got.kind, Kind::message);
        EXPECT_EQ(got.message.body, wanted.body);
        EXPECT_NE(got.message.header.find("\"bytes\":" + std::to_string(wanted.body.size())),
                  std::string::npos);
    }
    EXPECT_EQ(read_message(pipe).kind, Kind::end);
}

TEST(Message, CountsABodyOverABlockOfTheReaderRight) {
    // The body is read a megabyte at a time: sizes about that edge.
    for (const std::size_t size : {(1u << 20u) - 1, 1u << 20u, (1u << 20u) + 1, 3u << 20u}) {
        std::stringstream pipe;
        write_message(pipe, {"{}", std::string(size, 'x')});
        write_message(pipe, {"{\"next\":1}", ""});
        EXPECT_EQ(read_message(pipe).message.body.size(), size);
        EXPECT_EQ(read_message(pipe).message.header, "{\"next\":1,\"bytes\":0}");
    }
}

TEST(Message, TakesNoEmptyLineForAHeader) {
    std::stringstream pipe("\n\n{\"bytes\": 0}\n\n");
    EXPECT_EQ(read_message(pipe).kind, Kind::message);
    EXPECT_EQ(read_message(pipe).kind, Kind::end);
}

TEST(Message, OverwritesACountThatItsHeaderClaims) {
    // What stands before a body is its true length, whatever the header said.
    std::stringstream pipe;
    write_message(pipe, {"{\"bytes\":99,\"id\":1}", "four"});
    EXPECT_EQ(read_message(pipe).message.body, "four");
}

}  // namespace
}  // namespace tearline::serve
