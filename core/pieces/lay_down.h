#pragma once
#include <span>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/pieces/piece.h"
#include "core/pieces/ply_shape.h"
#include "core/warnings/warning.h"

namespace tearline::pieces {

/// A lap or a relief cut of a ply, which those of the next ply keep clear of.
struct Band {
    std::vector<Vec2> line;   ///< [mm] in the patch's chart
    double half_width = 0.0;  ///< [mm] >= 0: how far a lap reaches to either side
};

/// A ply's shape as pieces that lie down, each within its limit and its roll.
struct LaidDown {
    std::vector<Piece> pieces;  ///< turned to the flat frame
    std::vector<Band> bands;    ///< laps and cuts that were needed
    Warnings warnings;          ///< what was done and why
};

/// Lays a shape down with as little help as brings every piece under its limit (DEFINITIONS.md,
/// Mat; Woven, biaxial): as one piece, with relief cuts (mat), or in pieces that lap.
///
/// Laps and cuts keep 50 mm from those of the ply before and off the middle of the damage; only
/// when nothing else serves one goes across the middle, and a warning says so.
/// @param whole   the shape's own surface
/// @param before  laps and cuts of the ply laid before
/// @param two_before  those of the ply before that: kept clear of likewise where an equal way does
/// @error no_safe_answer  nothing serves; the message names the place, the limit and what would
///                        change it
[[nodiscard]] Result<LaidDown> lay_down(const PlyShape& shape, const plies::LaySurface& whole,
                                        std::span<const Band> before,
                                        std::span<const Band> two_before = {});

/// The shape's own surface as one piece, whatever it strains and whatever was laid before it: what
/// lay_down() begins with.
///
/// @error no_safe_answer  it cannot be laid flat as one piece
[[nodiscard]] Result<Piece> lay_whole(const PlyShape& shape, const plies::LaySurface& whole);

/// What a ply keeps clear of, and what may help it.
struct LaidBefore {
    std::span<const Band> before, two_before;
    bool cuts = true;  ///< whether relief cuts are tried: a ply in pieces leaves the next more room
};

/// Why a shape does not lie down.
struct NotLaid {
    Error error;
    bool crowded = false;  ///< without the laps and cuts of the ply before it would
};

/// The same as lay_down() where that beginning is known.
[[nodiscard]] tl::expected<LaidDown, NotLaid> lay_down_beside(const PlyShape& shape,
                                                              const plies::LaySurface& whole,
                                                              Result<Piece> in_one_piece,
                                                              const LaidBefore& laid);

/// How wide a strip of the roll a piece takes, its torn bands or laps included, at the best of the
/// turns that its cloth may be cut at [mm].
[[nodiscard]] double roll_need(const Piece& piece, const job::Fabric& fabric);

/// Whether a piece is within its fabric's strain_limit or shear_limit.
[[nodiscard]] bool within_limit(const Piece& piece, const job::Fabric& fabric);

/// Whether it is and fits its roll.
[[nodiscard]] bool lies_down(const Piece& piece, const job::Fabric& fabric);

/// What is wrong with a piece that is over its limit or too wide, and where.
/// @pre !lies_down(piece, fabric)
[[nodiscard]] warn::Complaint complaint(const Piece& piece, const job::Fabric& fabric);

}  // namespace tearline::pieces
