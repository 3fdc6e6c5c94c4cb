#pragma once
#include <span>
#include <vector>

#include "core/layout/nest_rolls.h"
#include "core/plan/plan.h"
#include "core/templates/laid_ply.h"

namespace tearline::plan {

/// The pieces of all plies in the order of laying, for the rolls; they point into `plies`.
[[nodiscard]] std::vector<layout::CutPiece> cut_pieces(std::span<const templates::LaidPly> plies);

/// Of a backing that stays and has a template, every ply of it.
[[nodiscard]] std::vector<layout::CutPiece> backing_pieces(const Plan& plan);

/// All that is cut of cloth.
[[nodiscard]] std::vector<layout::CutPiece> cut_pieces(const Plan& plan);

}  // namespace tearline::plan
