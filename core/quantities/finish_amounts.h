#pragma once
#include <optional>

#include "core/quantities/repair.h"

namespace tearline::quantities {

// Common practice.
inline constexpr double paint_coats = 3.0;
inline constexpr double paint_m2_a_litre = 10.0;  ///< a coat; the can says its own

/// The topcoat's film over all that is touched, waste included, of one copy.
[[nodiscard]] Grams topcoat_film(const job::Job& job, const Areas& areas);

/// The same of gel coat; nothing on epoxy, which polyester gel coat does not hold on to.
[[nodiscard]] std::optional<Grams> gel_coat(const job::Job& job, const Areas& areas);

/// Paint over all that is touched, three coats at 10 m2 a litre, of one copy.
[[nodiscard]] Millilitres paint(const Areas& areas);

}  // namespace tearline::quantities
