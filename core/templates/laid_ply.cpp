#include "core/templates/laid_ply.h"

namespace tearline::templates {

const LaidPiece* piece_named(std::string_view id, std::span<const LaidPly> plies) {
    for (const LaidPly& ply : plies)
        for (const LaidPiece& piece : ply.pieces)
            if (piece.piece.id == id) return &piece;
    return nullptr;
}

}  // namespace tearline::templates
