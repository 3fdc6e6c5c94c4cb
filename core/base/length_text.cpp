#include "core/base/length_text.h"

#include <cmath>

#include "core/base/numbers.h"
#include "core/base/us_constants.h"

namespace tearline {

namespace {

constexpr double thousandths_below = 1.0 / 8.0, fine_below = 6.0;  // [in]

/// "3 5/32" of a length in parts of an inch.
std::string fraction(double inches, long parts) {
    long count = std::lround(inches * static_cast<double>(parts));
    const long whole = count / parts;
    count %= parts;
    while (count != 0 && count % 2 == 0) {
        count /= 2;
        parts /= 2;
    }
    if (count == 0) return std::to_string(whole);
    const std::string part = std::to_string(count) + "/" + std::to_string(parts);
    return whole == 0 ? part : std::to_string(whole) + " " + part;
}

std::string inch_figure(double inches) {
    const double size = std::abs(inches);
    const std::string sign = inches < 0.0 ? "-" : "";
    if (!(size >= thousandths_below)) {
        const std::string text = fixed(inches, 3);
        return text == "0.000" ? "0" : text;
    }
    return sign + fraction(size, size < fine_below ? 32 : 16);
}

}  // namespace

std::string length_unit(Units units) {
    return units == Units::metric ? "mm" : "in";
}

std::string length_figure(double mm, int decimals, Units units) {
    return units == Units::metric ? fixed(mm, decimals) : inch_figure(mm / us::mm_per_inch);
}

std::string length_text(double mm, int decimals, Units units) {
    return length_figure(mm, decimals, units) + " " + length_unit(units);
}

std::string thickness_text(double mm, int decimals, Units units) {
    return units == Units::metric ? fixed(mm, decimals) + " mm"
                                  : fixed(mm / us::mm_per_inch, 3) + " in";
}

std::string place_text(const Vec3& place) {
    return "(" + fixed(place.x(), 1) + ", " + fixed(place.y(), 1) + ", " + fixed(place.z(), 1) +
           ")";
}

}  // namespace tearline
