#include "core/job/table_reader.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "core/job/parse_toml.h"

// The readers of single values: each by a line of a file, its message whole, as a person reads it.
namespace tearline::job {
namespace {

/// What a reader makes of `value = ...`, and what it refuses.
template <class T>
struct Made {
    std::optional<T> value;
    std::string refused;
};

template <class T, class... Hows>
Made<T> made(const std::string& value,
             std::optional<T> (TableReader::*reader)(const Node&, const std::string&, Hows...),
             std::type_identity_t<Hows>... hows) {
    const auto root = parse_toml("value = " + value + "\n", "f");
    if (!root) return {std::nullopt, root.error().message()};
    Refusals refusals("f", 1);
    TableReader reads(refusals, &*root, "", {"value"});
    auto read = reads.read("value", reader, hows...);
    return {std::move(read), refusals.first() ? refusals.first()->message() : ""};
}

Made<double> length(const std::string& value, Range range = between(0.0, 100.0)) {
    return made(value, &TableReader::length, range, "mm");
}

Made<double> number(const std::string& value, Range range = between(0.0, 100.0)) {
    return made(value, &TableReader::number, range, "%");
}

TEST(Range, HoldsItsEndsAsItSaysAndNothingThatIsNoNumber) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_TRUE(between(1.0, 2.0).holds(1.0));
    EXPECT_TRUE(between(1.0, 2.0).holds(2.0));
    EXPECT_FALSE(between(1.0, 2.0).holds(std::nextafter(2.0, 3.0)));
    EXPECT_FALSE(above_zero_to(2.0).holds(0.0));
    EXPECT_TRUE(above_zero_to(2.0).holds(std::nextafter(0.0, 1.0)));
    EXPECT_FALSE((Range{0.0, 1.0, true, false}.holds(1.0)));
    for (const Range& range : {between(-1.0, 1.0), above_zero_to(1.0)})
        EXPECT_FALSE(range.holds(nan));
}

TEST(Range, SaysItsEndsWithoutPowersOfTen) {
    EXPECT_EQ(between(0.0, 100000.0).words("mm"), "must be at least 0 and at most 100000 mm");
    EXPECT_EQ(above_zero_to(0.5).words(""), "must be above 0 and at most 0.5");
    EXPECT_EQ((Range{0.0, 1.0, false, false}.words("")), "must be above 0 and below 1");
}

TEST(Listed, NamesWordsAsASentenceDoes) {
    EXPECT_EQ(listed({}), "");
    EXPECT_EQ(listed({"a"}), "\"a\"");
    EXPECT_EQ(listed({"a", "b"}), "\"a\" or \"b\"");
    EXPECT_EQ(listed({"a", "b", "c"}), "\"a\", \"b\" or \"c\"");
}

TEST(Refusals, KeepTheFirst) {
    Refusals refusals("f", 9);
    refusals.refuse(3, "a", "first");
    refusals.refuse(1, "b", "second");
    EXPECT_EQ(refusals.first()->message(), "f:3: a: first");
}

TEST(TableReader, RefusesEveryFormOfNoNumberByName) {
    EXPECT_EQ(number("50").value, 50.0);
    EXPECT_EQ(number("\"50\"").refused,
              "f:1: value: value \"50\": must be a number in %, without quotes");
    EXPECT_EQ(
        number("nan").refused.substr(0, 51),
        std::string("f:1: value: value nan: not a finite number; must be a number").substr(0, 51));
    EXPECT_FALSE(number("inf").value);
    EXPECT_FALSE(number("-inf").value);
    EXPECT_EQ(number("101").refused, "f:1: value: value 101: must be at least 0 and at most 100 %");
    EXPECT_FALSE(number("true").value);
    EXPECT_FALSE(number("[50]").value);
}

TEST(TableReader, TakesLengthsInMillimetresOrWithAnyUnit) {
    // By the inch's definition.
    EXPECT_EQ(length("6").value, 6.0);
    EXPECT_NEAR(length("\"1/4 in\"").value.value(), 6.35, 1e-12);
    EXPECT_NEAR(length("\"1 1/4 in\"").value.value(), 31.75, 1e-12);
    EXPECT_NEAR(length("\"0.6 cm\"").value.value(), 6.0, 1e-12);
    EXPECT_FALSE(length("\"6\"").value);
    EXPECT_FALSE(length("\"5 in\"").value) << "127 mm are out of range, in whatever unit";
    EXPECT_NE(length("\"5 in\"").refused.find("at most 100 mm"), std::string::npos);
    EXPECT_FALSE(length("nan").value);
}

TEST(TableReader, TakesWholeNumbersAlone) {
    const auto whole = [](const std::string& value) {
        return made(value, &TableReader::whole_number, between(1.0, 12.0), "");
    };
    EXPECT_EQ(whole("12").value, 12);
    for (const char* wrong : {"12.0", "1.5", "0", "13", "\"3\"", "nan", "99999999999999999999"})
        EXPECT_FALSE(whole(wrong).value) << wrong;
    EXPECT_EQ(whole("13").refused, "f:1: value: value 13: must be a whole number from 1 to 12");
}

TEST(TableReader, TellsACanByMassOrByVolumeWithItsTextAsTyped) {
    // US liquid quart: 946.352946 mL by definition (231 cubic inches a gallon).
    const auto can = [](const std::string& value) {
        return made(value, &TableReader::can, above_zero_to(20000.0), "g");
    };
    const auto kilos = can("\"5 kg\"");
    ASSERT_TRUE(kilos.value);
    EXPECT_EQ(kilos.value->mass->value(), 5000.0);
    EXPECT_FALSE(kilos.value->volume);
    EXPECT_EQ(kilos.value->text, "5 kg");
    const auto quart = can("\"1 qt\"");
    ASSERT_TRUE(quart.value);
    EXPECT_NEAR(quart.value->volume->value(), 231.0 * 25.4 * 25.4 * 25.4 / 1000.0 / 4.0, 1e-9);
    EXPECT_FALSE(quart.value->mass);
    EXPECT_EQ(can("750").value->text, "750 g");
    for (const char* wrong :
         {"\"5 oz\"", "\"5\"", "\"40 kg\"", "\"10 gal\"", "0", "-1", "\"a can\""})
        EXPECT_FALSE(can(wrong).value) << wrong;
}

TEST(TableReader, TakesPlacesWithinTenKilometres) {
    const auto place = [](const std::string& value) { return made(value, &TableReader::place); };
    EXPECT_EQ(place("[1, -2.5, \"1 m\"]").value, Vec3(1.0, -2.5, 1000.0));
    EXPECT_TRUE(place("[1e7, 0, 0]").value);
    EXPECT_NE(place("[1.1e7, 0, 0]").refused.find("10 km"), std::string::npos);
    for (const char* wrong :
         {"[1, 2]", "[1, 2, 3, 4]", "[1, 2, nan]", "7", "[1, 2, \"x\"]", "[[1], 2, 3]"})
        EXPECT_FALSE(place(wrong).value) << wrong;
    EXPECT_NE(place("{A = 5, B = 6}").refused.find("cannot be measured from marks"),
              std::string::npos);
    const auto places = made("[[1, 2, 3], [4, 5]]", &TableReader::places);
    EXPECT_NE(places.refused.find("value[2]"), std::string::npos) << places.refused;
}

TEST(TableReader, MakesDirectionsUnitsWhateverTheirLength) {
    const auto way = [](const std::string& value) { return made(value, &TableReader::direction); };
    for (const char* value : {"[3, 4, 0]", "[3e-9, 4e-9, 0]", "[3e6, 4e6, 0]"}) {
        const auto read = way(value).value;
        ASSERT_TRUE(read) << value;
        EXPECT_NEAR((*read - Vec3(0.6, 0.8, 0.0)).norm(), 0.0, 1e-12) << value;
    }
    EXPECT_NE(way("[0, 0, 0]").refused.find("cannot be zero"), std::string::npos);
}

TEST(TableReader, TakesPairsAndWordsOfAListAlone) {
    const auto pair = [](const std::string& value) {
        return made(value, &TableReader::pair, between(0.0, 5.0), "%");
    };
    EXPECT_EQ(pair("[1, 2.5]").value, (std::array{1.0, 2.5}));
    for (const char* wrong : {"[1]", "[1, 2, 3]", "1", "[1, 6]", "[1, nan]", "[1, \"2\"]"})
        EXPECT_FALSE(pair(wrong).value) << wrong;
    const auto word = [](const std::string& value) {
        return made(value, &TableReader::word, TableReader::Names{"flat", "vertical"});
    };
    EXPECT_EQ(word("\"flat\"").value, "flat");
    EXPECT_EQ(word("\"Flat\"").refused,
              "f:1: value: value \"Flat\": must be \"flat\" or \"vertical\"");
    EXPECT_FALSE(word("1").value);
    EXPECT_EQ(made("true", &TableReader::truth).value, true);
    EXPECT_EQ(made("1", &TableReader::truth).refused,
              "f:1: value: value 1: must be true or false, without quotes");
}

TEST(TableReader, RefusesTextThatNoSheetCanShow) {
    const auto text = [](const std::string& value) { return made(value, &TableReader::text); };
    EXPECT_EQ(text("\"Möwe\"").value, "Möwe");
    EXPECT_TRUE(text("\"" + std::string(200, 'x') + "\"").value);
    EXPECT_FALSE(text("\"" + std::string(201, 'x') + "\"").value);
    EXPECT_FALSE(text("\"a\\u0007b\"").value);
    EXPECT_FALSE(text("7").value);
    EXPECT_EQ(made("\"a\\u0007b\"", &TableReader::file).value, "a\ab") << "as the system takes it";
}

TEST(TableReader, OfATableThatIsNoneSaysHowItIsWritten) {
    const auto root = parse_toml("hull = 5\n", "f");
    Refusals refusals("f", 1);
    const TableReader reads(refusals, root->find("hull"), "hull", {"model"});
    EXPECT_FALSE(reads.given());
    EXPECT_EQ(refusals.first()->message(), "f:1: hull: value 5: must be a table, written [hull]");
}

}  // namespace
}  // namespace tearline::job
