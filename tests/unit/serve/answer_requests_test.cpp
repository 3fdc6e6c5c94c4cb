#include "core/serve/answer_requests.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

namespace tearline::serve {
namespace {

using Json = nlohmann::json;

const std::string panel_job = R"(
[hull]
model = "sample-models/panel.stl"
unit = "mm"
bow = [1, 0, 0]
up = [0, 0, 1]
outward = "as modelled"
[damage]
centre = [0, 0, 0]
radius = 60
depth = 2.1
[resin]
hardener_percent = 1.25
)";

/// One side of a conversation: what is asked, and all that is answered to it.
class Answers : public testing::Test {
protected:
    struct Answer {
        Json header;
        std::string body;
    };

    std::vector<Answer> all_to(const Json& header, const std::string& body = {}) {
        out_.str({});
        goes_on_ = answerer_.answer({header.dump(), body});
        std::istringstream in(out_.str());
        std::vector<Answer> answers;
        for (;;) {
            const Incoming incoming = read_message(in);
            if (incoming.kind != Incoming::Kind::message) break;
            answers.push_back({Json::parse(incoming.message.header), incoming.message.body});
        }
        return answers;
    }
    /// The last one, which is the answer; those before it tell how far it is.
    Answer to(const Json& header, const std::string& body = {}) {
        const auto answers = all_to(header, body);
        return answers.empty() ? Answer{} : answers.back();
    }
    void greet() {
        ASSERT_EQ(to({{"id", 1}, {"request", "hello"}, {"protocol", 1}}).header["ok"], true);
    }

    std::ostringstream out_;
    Cancelled cancelled_;
    RequestAnswerer answerer_{out_, cancelled_};
    bool goes_on_ = true;
};

TEST_F(Answers, NothingIsDoneBeforeAGreetingOfTheSameProtocol) {
    EXPECT_EQ(to({{"id", 1}, {"request", "ping"}}).header["error"], "bad-request");
    EXPECT_EQ(to({{"id", 2}, {"request", "hello"}, {"protocol", 99}}).header["error"],
              "bad-version");
    EXPECT_EQ(to({{"id", 3}, {"request", "ping"}}).header["ok"], false);
    greet();
    EXPECT_EQ(to({{"id", 4}, {"request", "ping"}}).header,
              (Json{{"id", 4}, {"ok", true}, {"bytes", 0}}));
}

TEST_F(Answers, AHeaderThatIsWrongIsToldAndTheNextOneIsHeard) {
    greet();
    for (const Json& header :
         std::vector<Json>{{{"id", 5}},
                           {{"id", 5}, {"request", 7}},
                           {{"id", 5}, {"request", "shout"}},
                           {{"id", 5}, {"request", "hull"}},
                           {{"id", 5}, {"request", "hull"}, {"model", 3}},
                           {{"id", 5}, {"request", "mix"}, {"area_m2", 1}, {"plies", 1e300}},
                           {{"id", 5}, {"request", "mix"}, {"area_m2", 1}, {"plies", 1.5}},
                           {{"id", 5}, {"request", "write"}, {"folder", std::string("/a\0b", 4)}},
                           {{"id", 5}, {"request", "write"}, {"folder", {1}}},
                           {{"id", 5}, {"request", "write"}, {"folder", "x"}}}) {
        const Answer answer = to(header, header.value("request", Json()) == "mix" ? panel_job : "");
        EXPECT_EQ(answer.header["id"], 5) << header;
        EXPECT_EQ(answer.header["error"], "bad-request") << header << answer.header;
        EXPECT_TRUE(goes_on_);
    }
    EXPECT_EQ(
        to({{"id", 5}, {"request", "\x1b[2J"}}).header["message"].get<std::string>().find('\x1b'),
        std::string::npos);
    EXPECT_EQ(to({{"id", 6}, {"request", "ping"}}).header["ok"], true);
    to({{"id", 7}, {"request", "bye"}});
    EXPECT_FALSE(goes_on_);
}

TEST_F(Answers, APlanIsToldAsItGrowsAndItsPartsFillTheBody) {
    greet();
    const auto answers = all_to({{"id", 8}, {"request", "plan"}}, panel_job);
    ASSERT_GE(answers.size(), 3u);
    double before = 0.0;
    for (std::size_t i = 0; i + 1 < answers.size(); ++i) {
        EXPECT_EQ(answers[i].header["id"], 8);
        EXPECT_GE(answers[i].header["fraction"], before);
        before = answers[i].header["fraction"];
    }
    const Answer& plan = answers.back();
    ASSERT_EQ(plan.header["ok"], true) << plan.header;
    std::size_t bytes = 0;
    for (const Json& part : plan.header["parts"]) bytes += part["bytes"].get<std::size_t>();
    EXPECT_EQ(bytes, plan.body.size());
    ASSERT_EQ(plan.header["parts"][0]["name"], "plan.json");
    const Json read =
        Json::parse(plan.body.substr(0, plan.header["parts"][0]["bytes"].get<std::size_t>()));
    EXPECT_EQ(read["schema"], "tearline-plan/1");
    // Asked again, what is kept is sent without being worked out anew.
    EXPECT_EQ(all_to({{"id", 9}, {"request", "plan"}}, panel_job).size(), 1u);
}

TEST_F(Answers, WhatIsNoLongerWantedIsStopped) {
    greet();
    cancelled_.expect(10);
    cancelled_.add(10);
    EXPECT_EQ(to({{"id", 10}, {"request", "plan"}}, panel_job).header["error"], "cancelled");
    // Answered, the id is free again.
    cancelled_.expect(10);
    EXPECT_EQ(to({{"id", 10}, {"request", "plan"}}, panel_job).header["ok"], true);
}

TEST_F(Answers, ARefusalNamesFileLineAndKey) {
    greet();
    std::string job = panel_job;
    job.replace(job.find("radius = 60"), 11, "radius = -6");
    const Json header = to({{"id", 11}, {"request", "plan"}, {"file", "bench.toml"}}, job).header;
    EXPECT_EQ(header["error"], "bad-input");
    EXPECT_EQ(header["key"], "damage.radius");
    EXPECT_EQ(header["line"], 10);
    EXPECT_TRUE(header["message"].get<std::string>().starts_with("bench.toml:10: ")) << header;
}

TEST_F(Answers, WhatThereWasNoRoomForIsBusy) {
    answerer_.turn_away({R"({"id":12,"request":"plan"})", ""});
    std::istringstream in(out_.str());
    const Json header = Json::parse(read_message(in).message.header);
    EXPECT_EQ(header["id"], 12);
    EXPECT_EQ(header["error"], "busy");
}

}  // namespace
}  // namespace tearline::serve
