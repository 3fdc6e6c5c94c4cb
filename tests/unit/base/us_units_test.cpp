#include "core/base/us_units.h"

#include <gtest/gtest.h>

namespace tearline::us {
namespace {

TEST(UsUnits, ConvertByDefinition) {
    // International pound 453.59237 g, foot 304.8 mm, US fluid ounce 29.5735295625 mL.
    EXPECT_NEAR(ounces(Grams(453.59237)), 16.0, 1e-12);
    EXPECT_NEAR(square_feet(SquareMetres(0.09290304)), 1.0, 1e-12);
    EXPECT_NEAR(fluid_ounces(Millilitres(946.352946)), 32.0, 1e-9);
    EXPECT_NEAR(inches(25.4), 1.0, 1e-15);
    EXPECT_NEAR(fahrenheit(Celsius(20.0)), 68.0, 1e-12);
}

TEST(UsUnits, TwentyMilCoversWhatTheTradeSays) {
    // SOURCES.md section 4: 20 mil is 0.508 mm, and covers 80.208 ft2 a US gallon (3785.411784
    // mL).
    EXPECT_NEAR(mils(0.508), 20.0, 1e-12);
    EXPECT_NEAR(square_feet(SquareMetres(3785.411784e-6 / 0.508e-3)), 80.208, 5e-4);
}

TEST(UsUnits, MassIsShownInPoundsFromTwoOn) {
    EXPECT_EQ(mass_text(Grams(14.4375)), "0.509 oz wt");
    // By hand: 1.2 g / 28.3495 = 0.04233; 2.5 mL / 29.5735 = 0.08453.
    EXPECT_EQ(mass_text(Grams(1.2)), "0.0423 oz wt");
    EXPECT_EQ(volume_text(Millilitres(2.5)), "0.0845 fl oz");
    EXPECT_EQ(volume_text(Millilitres(100.0)), "3.38 fl oz");
    EXPECT_EQ(mass_text(Grams(758.32)), "26.7 oz wt");
    EXPECT_EQ(mass_text(Grams(2.0 * 453.59237)), "2 lb 0.0 oz wt");
    EXPECT_EQ(mass_text(Grams(2.99999 * 453.59237)), "3 lb 0.0 oz wt");
}

}  // namespace
}  // namespace tearline::us
