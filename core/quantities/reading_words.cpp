#include "core/quantities/reading_words.h"

#include "core/base/numbers.h"
#include "core/base/us_units.h"
#include "core/quantities/measuring.h"

namespace tearline::quantities {

namespace {

/// Two places at least, and more until the last one's half is less than half a division.
int places_for(double half_division) {
    int places = 2;
    for (double half = 0.005; half > half_division; half /= 10.0) ++places;
    return places;
}

}  // namespace

std::string reading_text(const Measured& dose) {
    const double division = 2.0 * facts_of(dose.tool).half;
    const int places = division < 0.1 ? 2 : division < 1.0 ? 1 : 0;
    return fixed(dose.reading, places) + (dose.tool == Tool::scale ? " g" : " mL");
}

std::string reading_in_ounces(const Measured& dose) {
    const double half = facts_of(dose.tool).half;
    if (dose.tool != Tool::scale)
        return fixed(us::fluid_ounces(Millilitres(dose.reading)),
                     places_for(us::fluid_ounces(Millilitres(half)))) +
               " fl oz";
    constexpr double two_pounds = 32.0;  // [oz] from there on ounces go with their pounds
    const double ounces = us::ounces(Grams(dose.reading));
    if (ounces >= two_pounds) return us::mass_text(Grams(dose.reading));
    return fixed(ounces, places_for(us::ounces(Grams(half)))) + " oz wt";
}

}  // namespace tearline::quantities
