#include "core/serve/message.h"

#include <gtest/gtest.h>

#include <sstream>

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

}  // namespace
}  // namespace tearline::serve
