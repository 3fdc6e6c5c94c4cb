#pragma once
#include <vector>

#include "core/pieces/piece.h"
#include "core/templates/template.h"

namespace tearline::templates {

/// The net line of a piece with a lap outside each of its seams. The laps end where the ply does:
/// the outline of the piece is carried on past the seam as it bends there.
///
/// @param lap  [mm] how far the cloth reaches over a seam
[[nodiscard]] Region2 with_laps(const pieces::Piece& piece, const Region2& net, double lap);

/// The relief cuts of a piece as they are drawn on its template: in along one side, round the tip
/// (radius 3 mm), out along the other. The two sides of a slit are one.
///
/// @param reach  [mm] how far the cloth reaches outside the net line: the cut goes through that too
[[nodiscard]] std::vector<ReliefCut> relief_cuts(const pieces::Piece& piece, double reach);

}  // namespace tearline::templates
