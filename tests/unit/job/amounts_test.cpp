#include "core/job/amounts.h"

#include <gtest/gtest.h>

#include <random>
#include <string>
#include <utility>
#include <vector>

#include "core/job/nearest_name.h"

namespace tearline::job {
namespace {

TEST(Length, UnitsConvertExactly) {
    // Inch and foot by definition 25.4 and 304.8 mm; a mil is a thousandth of an inch.
    EXPECT_DOUBLE_EQ(read_length("25 mm").value(), 25.0);
    EXPECT_DOUBLE_EQ(read_length("2.5cm").value(), 25.0);
    EXPECT_DOUBLE_EQ(read_length("0.025 m").value(), 25.0);
    EXPECT_DOUBLE_EQ(read_length("1 in").value(), 25.4);
    EXPECT_DOUBLE_EQ(read_length(" 1 ft ").value(), 304.8);
    EXPECT_DOUBLE_EQ(read_length("20 mil").value(), 0.508);
    EXPECT_DOUBLE_EQ(read_length("3/4 in").value(), 19.05);
    EXPECT_DOUBLE_EQ(read_length("1 3/4 in").value(), 44.45);
    EXPECT_DOUBLE_EQ(read_length("1e2 mm").value(), 100.0);
    EXPECT_DOUBLE_EQ(read_length("-2 mm").value(), -2.0);
}

TEST(Length, FeetAndInchesAddUp) {
    // 1 ft = 12 in of 25.4 mm, exact.
    EXPECT_DOUBLE_EQ(read_length("1 ft 3 in").value(), 15 * 25.4);
    EXPECT_DOUBLE_EQ(read_length("2ft 1/2in").value(), 24.5 * 25.4);
    EXPECT_DOUBLE_EQ(read_length("1' 3\"").value(), 15 * 25.4);
    for (const char* text : {"1 ft 3", "1 ft 3 mm", "1 ft 3 ft", "ft 3 in", "-1 ft 3 in"})
        EXPECT_FALSE(read_length(text)) << text;
}

TEST(Length, NamesTheRightFormOfCapitalsAndSpecialSpaces) {
    const auto said = [](const char* text) { return read_length(text).error(); };
    EXPECT_NE(said("25 MM").find("\"mm\""), std::string::npos) << said("25 MM");
    EXPECT_NE(said("25\u00a0mm").find("plain space"), std::string::npos) << said("25\u00a0mm");
    EXPECT_NE(said("25 furlongs").find("known are mm"), std::string::npos) << said("25 furlongs");
}

TEST(Length, WhatIsNoLengthIsRefused) {
    for (const auto text : {"", "mm", "25", "1,5 mm", "nan mm", "inf mm", "1e999 mm", "25 parsec",
                            "1/0 in", "2 5 mm", "--3 mm", "3 mm mm"})
        EXPECT_FALSE(read_length(text)) << text;
}

TEST(ArealWeight, LabelsMatchTradeFactsSection3) {
    EXPECT_NEAR(read_areal_weight("0.75 oz/ft2")->value(), 228.86, 0.005);
    EXPECT_NEAR(read_areal_weight("1 oz/ft2")->value(), 305.15, 0.005);
    EXPECT_NEAR(read_areal_weight("1.5 oz/ft2")->value(), 457.7276, 5e-5);
    EXPECT_NEAR(read_areal_weight("2 oz/ft\u00b2")->value(), 610.30, 0.005);
    EXPECT_NEAR(read_areal_weight("18 oz/yd2")->value(), 610.30, 0.005);
    EXPECT_NEAR(read_areal_weight("24 oz/yd2")->value(), 813.7379, 5e-5);
    EXPECT_NEAR(read_areal_weight("6 oz/yd2")->value(), 203.43, 0.005);
    EXPECT_NEAR(read_areal_weight("10 oz/yd2")->value(), 339.06, 0.005);
    EXPECT_DOUBLE_EQ(read_areal_weight("0.45 kg/m2")->value(), 450.0);
}

TEST(ArealWeight, BareOunceIsRefusedWithTheReason) {
    const auto read = read_areal_weight("1.5 oz");
    ASSERT_FALSE(read);
    EXPECT_NE(read.error().find("oz/ft2"), std::string::npos);
    EXPECT_NE(read.error().find("oz/yd2"), std::string::npos);
    EXPECT_FALSE(read_areal_weight("450"));
}

TEST(Mass, UnitsConvertExactly) {
    EXPECT_DOUBLE_EQ(read_mass("5 kg")->value(), 5000.0);
    EXPECT_DOUBLE_EQ(read_mass("1 lb")->value(), 453.59237);
    EXPECT_NEAR(read_mass("16 oz wt")->value(), 453.59237, 1e-12);
    // A cup of 8 oz may be of weight or of liquid: 227 g or, of resin, 267.
    ASSERT_FALSE(read_mass("16 oz"));
    EXPECT_NE(read_mass("16 oz").error().find("oz wt"), std::string::npos);
    EXPECT_FALSE(read_mass("5"));
}

TEST(Stress, PsiIsPoundForceASquareInch) {
    // 1 psi = 6894.757 Pa (published, NIST SP 811).
    EXPECT_NEAR(read_stress("1000 psi").value(), 6.894757, 5e-7);
    EXPECT_DOUBLE_EQ(read_stress("8 MPa").value(), 8.0);
}

TEST(Area, SquareFootIsExact) {
    EXPECT_NEAR(read_area("1 ft2")->value(), 0.09290304, 1e-12);
    EXPECT_NEAR(read_area("144 in2")->value(), 0.09290304, 1e-12);
    EXPECT_DOUBLE_EQ(read_area("0.6 m2")->value(), 0.6);
}

TEST(EditDistance, CountsSingleChanges) {
    // The textbook pair: kitten to sitting takes 3.
    EXPECT_EQ(edit_distance("kitten", "sitting"), 3u);
    EXPECT_EQ(edit_distance("", "abc"), 3u);
    EXPECT_EQ(edit_distance("depth", "depth"), 0u);
}

TEST(NearestName, IsTheOneWithFewestChanges) {
    const std::vector<std::string_view> known = {"ratio", "least_step", "bond_shear"};
    EXPECT_EQ(nearest_name("leaststep", known), "least_step");
    EXPECT_EQ(nearest_name("ration", known), "ratio");
    EXPECT_EQ(nearest_name(std::string(100000, 'x'), known).empty(), false);
}

TEST(Amounts, VolumesAreMetricOrUsLiquid) {
    // Exact: a US gallon is 231 in3, so a fluid ounce is 29.5735295625 mL.
    EXPECT_DOUBLE_EQ(read_volume("8 fl oz")->value(), 8 * 29.5735295625);
    EXPECT_DOUBLE_EQ(read_volume("1 qt")->value(), 946.352946);
    EXPECT_DOUBLE_EQ(read_volume("0.5 L")->value(), 500.0);
    EXPECT_FALSE(read_volume("8 oz"));
    EXPECT_FALSE(read_volume("8"));
}

TEST(Length, EveryUnitIsThatOfItsDefinition) {
    // International yard of 0.9144 m: a foot a third, an inch a thirty-sixth of it.
    const double yard = 914.4;
    const std::vector<std::pair<std::string, double>> known = {
        {"mm", 1.0},           {"cm", 10.0},       {"m", 1000.0},         {"yd", yard},
        {"ft", yard / 3},      {"feet", yard / 3}, {"in", yard / 36},     {"inch", yard / 36},
        {"inches", yard / 36}, {"\"", yard / 36},  {"mil", yard / 36000}, {"mils", yard / 36000}};
    for (const auto& [unit, mm] : known)
        for (const double number : {0.5, 3.0, 250.0})
            EXPECT_NEAR(read_length(std::to_string(number) + " " + unit).value(), number * mm,
                        1e-9 * number * mm)
                << unit;
}

TEST(Length, TakesMixedFractionsAsARuleShowsThem) {
    // By hand: 2 3/8 in = 2.375 x 25.4.
    EXPECT_DOUBLE_EQ(read_length("2 3/8 in").value(), 60.325);
    EXPECT_DOUBLE_EQ(read_length("5/16\"").value(), 7.9375);
    EXPECT_DOUBLE_EQ(read_length("1 ft 2 3/4 in").value(), 14.75 * 25.4);
    for (const char* text : {"1/ in", "/2 in", "1 /2/3 in", "1/-2 in", "-1 1/2 in", "1 1 1/2 in"})
        EXPECT_FALSE(read_length(text)) << text;
}

TEST(Volume, OfOneQuantityIsTheSameInEveryUnit) {
    // US liquid: a gallon is 4 quarts, 8 pints, 128 fluid ounces, and 231 in3.
    const double gallon = 231.0 * 16.387064;
    EXPECT_NEAR(read_volume("1 gal")->value(), gallon, 1e-9);
    EXPECT_NEAR(read_volume("4 qt")->value(), gallon, 1e-9);
    EXPECT_NEAR(read_volume("8 pt")->value(), gallon, 1e-9);
    EXPECT_NEAR(read_volume("128 fl oz")->value(), gallon, 1e-9);
    EXPECT_DOUBLE_EQ(read_volume("3 l")->value(), read_volume("3000 ml")->value());
}

TEST(Stress, OfOneQuantityIsTheSameInEveryUnit) {
    EXPECT_NEAR(read_stress("1 Msi").value(), read_stress("1000 ksi").value(), 1e-9);
    EXPECT_NEAR(read_stress("1 ksi").value(), read_stress("1000 psi").value(), 1e-12);
    EXPECT_DOUBLE_EQ(read_stress("7 GPa").value(), 7000.0);
    EXPECT_DOUBLE_EQ(read_stress("10 N/mm2").value(), 10.0);
}

TEST(Amounts, AreRefusedWithoutTheirUnitAndWithAnotherKinds) {
    for (const char* text : {"3", "3 mm", "3 furlong", ""}) {
        EXPECT_FALSE(read_mass(text)) << text;
        EXPECT_FALSE(read_area(text)) << text;
        EXPECT_FALSE(read_stress(text)) << text;
        EXPECT_FALSE(read_volume(text)) << text;
        EXPECT_FALSE(read_areal_weight(text)) << text;
    }
    EXPECT_TRUE(is_bare_ounces("8 oz"));
    EXPECT_TRUE(is_bare_ounces("8 OZ"));
    EXPECT_FALSE(is_bare_ounces("8 fl oz"));
    EXPECT_FALSE(is_bare_ounces("8 oz/ft2"));
}

TEST(Area, OfOneQuantityIsTheSameInEveryUnit) {
    EXPECT_DOUBLE_EQ(read_area("6000 cm2")->value(), 0.6);
    EXPECT_DOUBLE_EQ(read_area("600000 mm2")->value(), 0.6);
    EXPECT_NEAR(read_area("1 yd2")->value(), 9.0 * read_area("1 ft\u00b2")->value(), 1e-12);
}

TEST(EditDistance, IsAMetric) {
    // Of random words: symmetric, zero only between equals, and no detour is shorter (the triangle
    // inequality).
    std::mt19937 draw(20261129);
    const auto word = [&] {
        std::string out;
        for (unsigned i = 0; i < draw() % 8; ++i) out += static_cast<char>('a' + draw() % 3);
        return out;
    };
    for (int i = 0; i < 400; ++i) {
        const std::string a = word(), b = word(), c = word();
        EXPECT_EQ(edit_distance(a, b), edit_distance(b, a));
        EXPECT_EQ(edit_distance(a, b) == 0, a == b);
        EXPECT_LE(edit_distance(a, c), edit_distance(a, b) + edit_distance(b, c));
        EXPECT_LE(edit_distance(a, b), std::max(a.size(), b.size()));
        EXPECT_GE(edit_distance(a, b) + std::min(a.size(), b.size()), std::max(a.size(), b.size()));
    }
}

TEST(NearestName, TakesTheFirstOfEquals) {
    const std::vector<std::string_view> known = {"ab", "ac", "ad"};
    EXPECT_EQ(nearest_name("ax", known), "ab");
    EXPECT_EQ(nearest_name("ad", known), "ad");
    EXPECT_EQ(nearest_name("ax", {}), "");
}

}  // namespace
}  // namespace tearline::job
