#pragma once
#include <span>
#include <vector>

#include "core/layout/nest_rolls.h"
#include "core/templates/laid_ply.h"

namespace tearline::plan {

/// The pieces of all plies in the order of laying, for the rolls; they point into `plies`.
[[nodiscard]] std::vector<layout::CutPiece> cut_pieces(std::span<const templates::LaidPly> plies);

}  // namespace tearline::plan
