#include "core/quantities/dew_point.h"

#include <cmath>

namespace tearline::quantities {

Celsius dew_point(Celsius air, Percent humidity) {
    constexpr double slope = 17.62, reach = 243.12;
    const double exponent =
        std::log(humidity.value() / 100.0) + slope * air.value() / (reach + air.value());
    return Celsius(reach * exponent / (slope - exponent));
}

}  // namespace tearline::quantities
