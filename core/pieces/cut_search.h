#pragma once
#include <functional>
#include <optional>

#include "core/pieces/relief_cuts.h"
#include "core/pieces/search.h"
#include "core/plies/lay_surface.h"

namespace tearline::pieces {

/// What relief cuts must keep to.
struct CutRules {
    double strain_limit = 0.05;                           ///< [-] > 0
    std::function<bool(const Vec2&)> sound_end;           ///< whether a cut may end there
    std::function<bool(const CutLines&)> keeps_distance;  ///< from the ply before and the middle
    std::function<bool(const CutLines&)> prefers;         ///< of such, what to try first
    Search search = Search::usual;
};

/// The best of some ways to cut a piece so often.
struct CutTrial {
    CutLines lines;
    double strain = 0.0;  ///< [-] as strain_max, on the mesh as it is
};

/// So many cuts where they help most, each way tried on the mesh of the plain piece; nothing where
/// none keeps to the rules.
///
/// A trial costs a part of a plain flattening: it begins at the flat shape without help.
/// @param whole  the surface that `plain` is of
[[nodiscard]] std::optional<CutTrial> best_cuts(const CutProposals& proposals,
                                                const plies::LaySurface& whole, const Piece& plain,
                                                const CutRules& rules, int count);

}  // namespace tearline::pieces
