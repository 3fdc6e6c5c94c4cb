#include "core/page/data_writer.h"

#include <gtest/gtest.h>

#include <cstring>
#include <nlohmann/json.hpp>

namespace tearline::page {
namespace {

/// Read back as RFC 4648, section 4, says, by a table of its own.
std::string decoded(const std::string& text) {
    const std::string letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string bytes;
    unsigned held = 0;
    int bits = 0;
    for (const char c : text) {
        if (c == '=') break;
        held = held << 6U | static_cast<unsigned>(letters.find(c));
        bits += 6;
        if (bits < 8) continue;
        bits -= 8;
        bytes += static_cast<char>(held >> static_cast<unsigned>(bits) & 0xFFU);
    }
    return bytes;
}

template <class Number>
std::vector<Number> numbers(const nlohmann::json& text) {
    const std::string bytes = decoded(text.get<std::string>());
    std::vector<Number> out(bytes.size() / sizeof(Number));
    std::memcpy(out.data(), bytes.data(), bytes.size());
    return out;
}

TEST(DataWriter, KeepsAThousandthOfAMillimetreTenMetresOut) {
    const Vec3 middle(10000.0, -200.0, 30.0);
    const std::vector<Vec3> points{{10000.123, -199.5, 31.25}, {9000.001, 300.002, -470.003}};
    DataWriter writer(middle);
    writer.places("at", points);
    const auto json = nlohmann::json::parse(writer.take());
    EXPECT_EQ(json["middle"], (std::vector<double>{10000.0, -200.0, 30.0}));
    const auto read = numbers<float>(json["at"]);
    ASSERT_EQ(read.size(), 6u);
    for (std::size_t i = 0; i < 6; ++i)
        EXPECT_NEAR(middle[static_cast<int>(i % 3)] + read[i],
                    points[i / 3][static_cast<int>(i % 3)], 1e-3);
}

TEST(DataWriter, KeepsTheTurnOfTriangles) {
    DataWriter writer(Vec3(0, 0, 0));
    writer.shape(
        {{Vec3(0, 0, 0), Vec3(1, 0, 0), Vec3(0, 1, 0), Vec3(0, 0, 1)}, {{0, 2, 1}, {3, 0, 1}}});
    const auto json = nlohmann::json::parse(writer.take());
    EXPECT_EQ(numbers<std::int32_t>(json["corners"]),
              (std::vector<std::int32_t>{0, 2, 1, 3, 0, 1}));
    EXPECT_EQ(numbers<float>(json["places"]).size(), 12u);
}

TEST(DataWriter, WritesEveryLoopOfEveryRegion) {
    Region3 region;
    region.outer = {Vec3(0, 0, 0), Vec3(9, 0, 0), Vec3(0, 9, 0)};
    region.holes = {{Vec3(1, 1, 0), Vec3(2, 1, 0), Vec3(1, 2, 0), Vec3(1, 1.5, 0)}};
    DataWriter writer(Vec3(0, 0, 0));
    writer.loops("edges", {region, region});
    writer.bytes("levels", {0, 255, 7});
    const auto json = nlohmann::json::parse(writer.take());
    ASSERT_EQ(json["edges"].size(), 4u);
    EXPECT_EQ(numbers<float>(json["edges"][1]).size(), 12u);
    EXPECT_EQ(numbers<float>(json["edges"][2])[3], 9.0F);
    EXPECT_EQ(numbers<std::uint8_t>(json["levels"]), (std::vector<std::uint8_t>{0, 255, 7}));
}

}  // namespace
}  // namespace tearline::page
