#include "core/formats/json_writer.h"

#include <gtest/gtest.h>

#include <clocale>
#include <limits>
#include <nlohmann/json.hpp>

namespace tearline::formats {

TEST(JsonWriter, KeepsTheOrderOfItsCalls) {
    JsonWriter json;
    json.begin_object().field("z", 1).field("a", true).key("m").null().end_object();
    EXPECT_EQ(json.take(), "{\"z\":1,\"a\":true,\"m\":null}");
}

TEST(JsonWriter, WritesTwelveSignificantDigits) {
    JsonWriter json;
    json.begin_array().value(1.0 / 3.0).value(4321.0987654321098).value(-0.0).end_array();
    EXPECT_EQ(json.take(), "[0.333333333333,4321.09876543,0]");
}

TEST(JsonWriter, RefusesNumbersThatAreNone) {
    JsonWriter json;
    EXPECT_THROW(json.value(std::numeric_limits<double>::quiet_NaN()), std::logic_error);
    EXPECT_THROW(json.value(std::numeric_limits<double>::infinity()), std::logic_error);
}

TEST(JsonWriter, IsReadBackByAnIndependentParser) {
    // nlohmann-json is the second opinion on escapes and nesting.
    const std::string awkward = "quote\" back\\slash \x01 tab\t Möwe\n";
    JsonWriter json;
    json.begin_object().line().field("text", awkward);
    json.field("loop", Loop2{{1.5, -2.0}, {3.0, 4.0}});
    json.field("region", Region3{{{1, 2, 3}}, {{{4, 5, 6}}}}).line().end_object();
    const auto back = nlohmann::json::parse(json.take());
    EXPECT_EQ(back["text"], awkward);
    EXPECT_EQ(back["loop"][0][1], -2.0);
    EXPECT_EQ(back["region"]["holes"][0][0][2], 6.0);
}

}  // namespace tearline::formats
