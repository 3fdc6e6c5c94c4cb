#pragma once
#include <vector>

#include "core/layout/nest_rolls.h"

namespace tearline::layout {

/// The turns that a piece may be cut at on a roll [deg].
[[nodiscard]] std::vector<double> allowed_turns(const CutPiece& piece, double roll_width);

/// Cuts pieces from a remnant: those that are locked where they are, then as many as have room.
///
/// @param pieces  a piece an entry; those that are cut are taken out of it
/// @param gap     [mm] between pieces; half of it to its edge
/// @error bad_input  as nest_rolls()
[[nodiscard]] Result<CutRemnant> use_remnant(const job::Remnant& remnant, double gap,
                                             std::vector<CutPiece>& pieces);

}  // namespace tearline::layout
