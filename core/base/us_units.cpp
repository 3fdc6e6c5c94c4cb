#include "core/base/us_units.h"

#include <cmath>

#include "core/base/numbers.h"
#include "core/base/us_constants.h"

namespace tearline::us {

namespace {

/// Three figures of less than an ounce, down to 0.0100: a dose of hardener is that small.
int places_of_part(double ounces) {
    return ounces < 0.09995 ? 4 : 3;
}

}  // namespace

double ounces(Grams mass) {
    return mass.value() / grams_per_ounce;
}

double fluid_ounces(Millilitres volume) {
    return volume.value() / millilitres_per_fluid_ounce;
}

double square_feet(SquareMetres area) {
    constexpr double feet_per_metre = 1000.0 / mm_per_foot;
    return area.value() * feet_per_metre * feet_per_metre;
}

double inches(double mm) {
    return mm / mm_per_inch;
}

double mils(double mm) {
    return 1000.0 * inches(mm);
}

double fahrenheit(Celsius temperature) {
    return 32.0 + 1.8 * temperature.value();
}

std::string volume_text(Millilitres volume) {
    const double ounces = fluid_ounces(volume);
    return fixed(ounces, ounces < 1.0 ? places_of_part(ounces) : 2) + " fl oz";
}

std::string mass_text(Grams mass) {
    if (ounces(mass) < 1.0) return fixed(ounces(mass), places_of_part(ounces(mass))) + " oz wt";
    // In tenths, so that 15.96 oz wt does not become "0 lb 16.0 oz wt".
    const double tenths = std::round(10.0 * ounces(mass));
    if (!(tenths >= 320.0)) return fixed(tenths / 10.0, 1) + " oz wt";
    const double pounds = std::floor(tenths / 160.0);
    return fixed(pounds, 0) + " lb " + fixed((tenths - 160.0 * pounds) / 10.0, 1) + " oz wt";
}

}  // namespace tearline::us
