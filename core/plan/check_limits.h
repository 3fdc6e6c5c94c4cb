#pragma once
#include "core/base/result.h"
#include "core/job/job.h"
#include "core/pieces/piece.h"
#include "core/warnings/warning.h"

namespace tearline::plan {

/// Compares the strain or shear of a flat piece with what its fabric can take.
///
/// @return cautions and warnings that go on the template
/// @error no_safe_answer  a piece that would have to strain or shear over its limit: whatever help
///                        was tried before, nothing ships over it
[[nodiscard]] Result<Warnings> check_limits(const job::Fabric& fabric, const pieces::Piece& piece);

}  // namespace tearline::plan
