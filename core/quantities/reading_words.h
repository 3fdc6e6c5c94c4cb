#pragma once
#include <string>

#include "core/quantities/cup.h"

namespace tearline::quantities {

/// "2.9 g", "0.97 mL": as many places as the tool has divisions for.
[[nodiscard]] std::string reading_text(const Measured& dose);

/// "0.102 oz wt", "0.0328 fl oz": rounded by less than half a division of the tool, by which a dose
/// stands inside its hardener_range, so that the ounces stand inside it too.
[[nodiscard]] std::string reading_in_ounces(const Measured& dose);

}  // namespace tearline::quantities
