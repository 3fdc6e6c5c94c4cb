#pragma once
#include <vector>

#include "core/pieces/piece.h"

namespace tearline::pieces {

/// The runs of a piece's edge along its seams, as vertices in the direction of the edge: the piece
/// lies on their left.
[[nodiscard]] std::vector<std::vector<std::int32_t>> seam_runs(const Piece& piece);

/// The same along some lines of the chart [mm].
[[nodiscard]] std::vector<std::vector<std::int32_t>> seam_runs(
    const Piece& piece, const std::vector<std::vector<Vec2>>& lines);

}  // namespace tearline::pieces
