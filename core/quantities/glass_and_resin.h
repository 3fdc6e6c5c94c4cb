#pragma once
#include "core/plan/plan.h"

namespace tearline::quantities {

/// Area that counts for the glass in the laminate [mm2]: the torn band of mat thins linearly to
/// nothing and so carries half its weight; cloth is counted flat, as cut.
[[nodiscard]] double laminate_area(const templates::Template& outline, job::FabricKind kind);

/// Fills glass area, glass and resin of each ply and its pieces.
void fill_glass_and_resin(Plan& plan);

}  // namespace tearline::quantities
