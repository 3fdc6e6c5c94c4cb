#pragma once
#include <cstddef>
#include <string>

#include "core/base/units.h"
#include "core/quantities/quantities.h"

namespace tearline::quantities {

/// A wet film as a gauge, a ruler and a hand know it: "0.51 mm = 20 mil = 5 sheets of printer
/// paper".
///
/// @source  a sheet is a fifth of 20 mil (SOURCES.md section 4, common practice)
[[nodiscard]] std::string film_text(double mm, Units units = Units::metric);

/// What to wait for and to do after a stage, before the next one or before the finish.
///
/// @param index  of the stage in `quantities.stages`, the priming coat included
/// @source  tack in about half an hour, recoat by the data sheet, at least 48 h at 18 C before load
///          (SOURCES.md section 4)
[[nodiscard]] std::string after_stage(const job::Job& job, const Quantities& quantities,
                                      std::size_t index);

}  // namespace tearline::quantities
