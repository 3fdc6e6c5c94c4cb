#include "core/serve/inbox.h"

#include <gtest/gtest.h>

#include <chrono>
#include <sstream>
#include <thread>

namespace tearline::serve {
namespace {

using Kind = Incoming::Kind;

Incoming numbered(int id) {
    Incoming incoming;
    incoming.kind = Kind::message;
    incoming.message.header = std::to_string(id);
    return incoming;
}

TEST(Inbox, GivesTheOldestFirst) {
    Inbox inbox;
    for (const int id : {1, 2, 3}) inbox.push(numbered(id));
    for (const char* id : {"1", "2", "3"}) EXPECT_EQ(inbox.pop().message.header, id);
}

TEST(Inbox, WaitsForWhatComesLater) {
    Inbox inbox;
    std::thread later([&] {
        std::this_thread::sleep_for(std::chrono::milliseconds(30));
        inbox.push(numbered(4));
    });
    EXPECT_EQ(inbox.pop().message.header, "4");
    later.join();
}

TEST(ReadAll, HearsCancelAndHandsTheRestOnToTheEnd) {
    std::stringstream pipe;
    write_message(pipe, {R"({"id":1,"request":"plan"})", "body"});
    write_message(pipe, {R"({"id":2,"request":"cancel","target":1})", ""});
    write_message(pipe, {R"({"id":3,"request":"cancel"})", ""});
    write_message(pipe, {R"({"id":4,"request":"cancel","target":"5"})", ""});
    write_message(pipe, {R"({"id":6})", ""});
    Inbox inbox;
    Cancelled cancelled;
    read_all(pipe, inbox, cancelled);
    EXPECT_TRUE(cancelled.contains(1));
    for (const int id : {2, 3, 4, 5, 6}) EXPECT_FALSE(cancelled.contains(id)) << id;
    EXPECT_EQ(inbox.pop().message.body, "body");
    EXPECT_EQ(inbox.pop().message.header, R"({"id":6,"bytes":0})");
    EXPECT_EQ(inbox.pop().kind, Kind::end);
}

TEST(Inbox, TurnsAwayWhatItHasNoRoomForAndKeepsItsHeader) {
    Inbox inbox;
    for (int i = 0; i < 300; ++i) inbox.push({Kind::message, {std::to_string(i), "body"}, ""});
    for (int i = 0; i < 300; ++i) {
        const Incoming incoming = inbox.pop();
        EXPECT_EQ(incoming.message.header, std::to_string(i));
        EXPECT_EQ(incoming.kind, i < 256 ? Kind::message : Kind::crowded) << i;
        EXPECT_EQ(incoming.message.body, i < 256 ? "body" : "");
    }
    // By bytes too: five bodies of 60 MB are over 256 MB; one alone is always taken.
    const std::string body(60 << 20, 'x');
    for (int i = 0; i < 5; ++i) inbox.push({Kind::message, {"h", body}, ""});
    for (int i = 0; i < 5; ++i)
        EXPECT_EQ(inbox.pop().kind, i < 4 ? Kind::message : Kind::crowded) << i;
    inbox.push({Kind::message, {"h", body}, ""});
    EXPECT_EQ(inbox.pop().kind, Kind::message);
}

TEST(CancelledIds, AreForgottenOnceAnsweredAndCancelNothingNew) {
    Cancelled cancelled;
    cancelled.expect(1);
    cancelled.add(1);
    EXPECT_TRUE(cancelled.contains(1));
    cancelled.forget(1);
    EXPECT_FALSE(cancelled.contains(1));
    cancelled.add(1);  // too late: it is answered
    cancelled.expect(1);
    EXPECT_FALSE(cancelled.contains(1)) << "a new request of an old id";
    cancelled.expect(1);
    cancelled.add(1);
    cancelled.forget(1);
    EXPECT_TRUE(cancelled.contains(1)) << "of two that wait, both were meant";
    cancelled.expect(1);
    cancelled.forget(1);
    EXPECT_FALSE(cancelled.contains(1)) << "one that came after the word was not";
}

TEST(ReadAll, GoesOnAfterAMalformedLineAndStopsAtABrokenBody) {
    std::stringstream pipe("garbage\n{\"id\": 1, \"bytes\": 0}\n{\"id\": 2, \"bytes\": 9}\nshort");
    Inbox inbox;
    Cancelled cancelled;
    read_all(pipe, inbox, cancelled);
    EXPECT_EQ(inbox.pop().kind, Kind::malformed);
    EXPECT_EQ(inbox.pop().kind, Kind::message);
    EXPECT_EQ(inbox.pop().kind, Kind::broken);
}

}  // namespace
}  // namespace tearline::serve
