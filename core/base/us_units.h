#pragma once
#include <string>

#include "core/base/quantity.h"

/// Amounts as text in US customary units, for display only.
namespace tearline::us {

[[nodiscard]] double ounces(Grams mass);
[[nodiscard]] double fluid_ounces(Millilitres volume);
[[nodiscard]] double square_feet(SquareMetres area);
[[nodiscard]] double inches(double mm);
[[nodiscard]] double mils(double mm);
[[nodiscard]] double fahrenheit(Celsius temperature);

/// "0.0423 oz wt", "0.509 oz wt", "26.7 oz wt", from 2 lb on "2 lb 3.1 oz wt": never a bare ounce,
/// which may be fluid.
[[nodiscard]] std::string mass_text(Grams mass);

/// "0.0423 fl oz", "0.423 fl oz", "8.45 fl oz".
[[nodiscard]] std::string volume_text(Millilitres volume);

}  // namespace tearline::us
