#include "core/plan/cut_pieces.h"

namespace tearline::plan {

std::vector<layout::CutPiece> cut_pieces(std::span<const templates::LaidPly> plies) {
    std::vector<layout::CutPiece> pieces;
    for (const templates::LaidPly& ply : plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            pieces.push_back({piece.piece.id, ply.number, ply.fabric, ply.kind, &piece.outline});
    return pieces;
}

}  // namespace tearline::plan
