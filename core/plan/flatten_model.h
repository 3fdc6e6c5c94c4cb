#pragma once
#include "core/base/result.h"
#include "core/hull/hull.h"
#include "core/plan/flat_job.h"
#include "core/plan/plan.h"

namespace tearline {

/// The model that is laid flat, whole, as its file has it.
///
/// @error bad_input  it cannot be read, or used
[[nodiscard]] Result<hull::Hull> model_to_flatten(const FlatJob& asked);

/// Lays it flat: outline in true size, strain, margin, marks; a plan with `flat` set, one ply
/// numbered 0 and nothing of a repair.
///
/// @param model           as model_to_flatten() gives it
/// @error bad_input       a face, outline or cloth that cannot be used
/// @error no_safe_answer  it is closed, or has no flat shape that we would cut by, with the place
[[nodiscard]] Result<Plan> flatten_model(const FlatJob& asked, const hull::Hull& model);

}  // namespace tearline
