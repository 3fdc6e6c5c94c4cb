#pragma once
#include <string>

#include "core/base/result.h"
#include "core/pieces/piece.h"
#include "core/plies/lay_surface.h"

namespace tearline::pieces {

/// Lays a ply's surface flat as one piece of mat, with its strain.
///
/// The flat shape lies over the piece's own chart; `turn_to_frame` turns it as the templates are.
/// @param id  ply number and letter, for example "1A"
/// @error no_safe_answer  the surface is in several parts or closed, a part of it cannot be laid
///                        down without turning over, or the flat piece overlaps itself
[[nodiscard]] Result<Piece> make_piece(const plies::LaySurface& lay, std::string id);

/// The edge of the flat piece: its net line, outer loop counter-clockwise, holes clockwise.
[[nodiscard]] Region2 net_outline(const Piece& piece);

}  // namespace tearline::pieces
