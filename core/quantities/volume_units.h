#pragma once

namespace tearline::quantities {

inline constexpr double mm3_per_millilitre = 1000.0;

}  // namespace tearline::quantities
