#include "core/plan/cut_pieces.h"

namespace tearline::plan {

std::vector<layout::CutPiece> cut_pieces(std::span<const templates::LaidPly> plies) {
    std::vector<layout::CutPiece> pieces;
    for (const templates::LaidPly& ply : plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            pieces.push_back({piece.piece.id, ply.number, ply.fabric, ply.kind, &piece.outline});
    return pieces;
}

std::vector<layout::CutPiece> backing_pieces(const Plan& plan) {
    std::vector<layout::CutPiece> pieces;
    if (!plan.backing || plan.backing->plies == 0) return pieces;
    for (const templates::LaidPly& sheet : plan.backing->pieces)
        for (const templates::LaidPiece& piece : sheet.pieces)
            pieces.push_back({piece.piece.id, 0, backing_mat, job::FabricKind::mat, &piece.outline,
                              plan.backing->plies});
    return pieces;
}

std::vector<layout::CutPiece> cut_pieces(const Plan& plan) {
    std::vector<layout::CutPiece> pieces = cut_pieces(plan.plies);
    for (layout::CutPiece& piece : backing_pieces(plan)) pieces.push_back(std::move(piece));
    return pieces;
}

}  // namespace tearline::plan
