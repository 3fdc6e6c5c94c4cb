#include "core/formats/json_writer.h"

#include <gtest/gtest.h>

#include <clocale>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <optional>
#include <random>

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

TEST(JsonWriter, EscapesEveryControlSign) {
    // nlohmann-json reads each back; 0x7F and beyond need no escape (RFC 8259).
    for (int sign = 1; sign < 128; ++sign) {
        const std::string text = "a" + std::string(1, static_cast<char>(sign)) + "b";
        JsonWriter json;
        json.begin_array().value(text).end_array();
        const std::string written = json.take();
        for (const char c : written) EXPECT_GE(static_cast<unsigned char>(c), 0x20) << sign;
        EXPECT_EQ(nlohmann::json::parse(written)[0], text) << sign;
    }
}

TEST(JsonWriter, LosesNoMoreThanTheTwelfthDigit) {
    // Random numbers of every size: read back within half of the twelfth digit.
    std::mt19937 draw(20261129);
    std::uniform_real_distribution<double> size(-12.0, 12.0), part(-1.0, 1.0);
    for (int i = 0; i < 2000; ++i) {
        const double value = part(draw) * std::pow(10.0, size(draw));
        JsonWriter json;
        json.begin_array().value(value).end_array();
        const double back = nlohmann::json::parse(json.take())[0];
        EXPECT_LE(std::abs(back - value), 5e-12 * std::abs(value)) << value;
    }
}

TEST(JsonWriter, PutsCommasBetweenAndNowhereElse) {
    // By hand; lines stand before a value, after the comma.
    JsonWriter json;
    json.begin_object();
    json.key("empty").begin_array().end_array();
    json.line().key("loops").value(std::vector<Loop2>{{{0, 1}}, {}});
    json.key("maybe").value(std::optional<double>());
    json.field("there", std::optional<double>(2.0)).key("raw").raw("{\"x\":[]}");
    json.line().end_object();
    EXPECT_EQ(
        json.take(),
        "{\"empty\":[],\n\"loops\":[[[0,1]],[]],\"maybe\":null,\"there\":2,\"raw\":{\"x\":[]}\n}");
}

TEST(JsonWriter, WritesPointsAndWholeNumbersAsTheyAre) {
    JsonWriter json;
    json.begin_array()
        .value(Vec3(1, -2, 0.5))
        .value(Vec2(3, 4))
        .value(std::int64_t{9007199254740993});
    json.value(false).value("\u00fc").end_array();
    EXPECT_EQ(json.take(), "[[1,-2,0.5],[3,4],9007199254740993,false,\"\u00fc\"]");
}

}  // namespace tearline::formats
