#pragma once
#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "core/base/quantity.h"

/// Amounts written as text with a unit. The error is what would be right, without the place.
namespace tearline::job {

template <class T>
using Amount = tl::expected<T, std::string>;

/// "25 mm", "1 in", "3/4 in", "20 mil" in [mm].
[[nodiscard]] Amount<double> read_length(std::string_view text);

/// "450 g/m2", "1.5 oz/ft2", "24 oz/yd2"; a bare "oz" is refused because mat and woven differ in
/// it.
[[nodiscard]] Amount<GramsPerSquareMetre> read_areal_weight(std::string_view text);

/// Whether it is so many "oz" and does not say of what: weight or liquid measure.
[[nodiscard]] bool is_bare_ounces(std::string_view text);

/// "250 g", "5 kg", "1 lb", "8 oz wt"; "oz" alone is refused, since a cup of 8 oz is of liquid.
[[nodiscard]] Amount<Grams> read_mass(std::string_view text);

/// "250 mL", "1 L", "8 fl oz", "1 qt": US liquid measure.
[[nodiscard]] Amount<Millilitres> read_volume(std::string_view text);

/// "10 MPa", "1450 psi" in [MPa].
[[nodiscard]] Amount<double> read_stress(std::string_view text);

/// "0.6 m2", "6.5 ft2".
[[nodiscard]] Amount<SquareMetres> read_area(std::string_view text);

}  // namespace tearline::job
