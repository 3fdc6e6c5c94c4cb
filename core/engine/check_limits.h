#pragma once
#include "core/base/result.h"
#include "core/base/warning.h"
#include "core/job/job.h"
#include "core/pieces/piece.h"

namespace tearline::engine {

/// Compares the strain or shear of a flat piece with what its fabric can take.
///
/// @return cautions and warnings that go on the template
/// @error no_safe_answer  cloth that would have to shear over its limit
[[nodiscard]] Result<Warnings> check_limits(const job::Fabric& fabric, const pieces::Piece& piece);

}  // namespace tearline::engine
