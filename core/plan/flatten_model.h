#pragma once
#include "core/base/result.h"
#include "core/plan/flat_job.h"
#include "core/plan/plan.h"

namespace tearline {

/// Lays it flat: outline in true size, strain, margin, marks; a plan with `flat` set, one ply
/// numbered 0 and nothing of a repair.
///
/// @error bad_input       a model, face, outline or cloth that cannot be used
/// @error no_safe_answer  it is closed, or has no flat shape that we would cut by, with the place
[[nodiscard]] Result<Plan> flatten_model(const FlatJob& asked);

}  // namespace tearline
