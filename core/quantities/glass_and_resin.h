#pragma once
#include <span>
#include <vector>

#include "core/templates/laid_ply.h"

namespace tearline::quantities {

/// What one piece takes.
struct PieceAmounts {
    double glass_g = 0.0;
    double resin_g = 0.0;
};

/// What one ply takes.
struct PlyAmounts {
    int ply = 0;                       ///< its number
    std::vector<PieceAmounts> pieces;  ///< in its own order
    double glass_area_mm2 = 0.0;       ///< to cut and to buy, every piece, one copy
    double glass_g = 0.0;
    double resin_g = 0.0;
};

/// Area that counts for the glass in the laminate: the torn band of mat thins linearly to
/// nothing and so carries half its weight; cloth is counted flat, as cut.
[[nodiscard]] SquareMetres laminate_area(const templates::Template& outline, job::FabricKind kind);

/// Glass area, glass and resin of each ply and its pieces, in the order of the plies.
[[nodiscard]] std::vector<PlyAmounts> glass_and_resin(std::span<const templates::LaidPly> plies,
                                                      const job::Job& job);

}  // namespace tearline::quantities
