#pragma once
#include "core/job/job.h"

namespace tearline::job {

/// A resin with the defaults of its kind, and nothing where only its data sheet can say.
///
/// Polyester: every figure. Vinylester: no percentage, no range, no liquid density. Epoxy: neither,
/// and 1.15 g/cm3 cured.
/// @source  polyester: core/SOURCES.md section 4; epoxy cured 1.15 g/cm3 from memory
[[nodiscard]] Resin resin_of_kind(ResinKind kind);

/// What resin is sold in where sheets show US units first: a US quart.
[[nodiscard]] Can us_can();

/// A topcoat with its defaults; over epoxy it has none, so that no percentage is assumed for it.
[[nodiscard]] Topcoat topcoat_over(ResinKind kind);

}  // namespace tearline::job
