#include "core/quantities/dew_point.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tearline::quantities {
namespace {

/// Pressure at which water vapour is saturated [hPa]: Buck (1981), with the constants of 1996; from
/// memory. Another fit to the same measurements than the one under test.
double buck(double celsius) {
    return 6.1121 * std::exp((18.678 - celsius / 234.5) * (celsius / (257.14 + celsius)));
}

TEST(DewPoint, AgreesWithAnotherFormulaOverTheShop) {
    for (double air = 5.0; air <= 40.0; air += 2.5)
        for (double humidity = 30.0; humidity <= 100.0; humidity += 5.0) {
            double low = -40.0, high = air;
            for (int i = 0; i < 60; ++i) {
                const double middle = 0.5 * (low + high);
                (buck(middle) < 0.01 * humidity * buck(air) ? low : high) = middle;
            }
            EXPECT_NEAR(dew_point(Celsius(air), Percent(humidity)).value(), low, 0.1)
                << air << " C, " << humidity << " %";
        }
}

TEST(DewPoint, OfSaturatedAirIsItsTemperature) {
    EXPECT_NEAR(dew_point(Celsius(18.0), Percent(100.0)).value(), 18.0, 1e-12);
}

}  // namespace
}  // namespace tearline::quantities
