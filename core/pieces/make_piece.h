#pragma once
#include <span>
#include <string>
#include <vector>

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

/// The same with relief cuts along chart lines, mouth first, that the mesh has edges along.
///
/// Sides of a slit may overlap on the flat piece where its neighbourhood does: the cloth is cut
/// along the middle and opens when it is laid.
[[nodiscard]] Result<Piece> make_piece(const plies::LaySurface& lay, std::string id,
                                       std::span<const std::vector<Vec2>> cuts);

/// Strain of a piece of mat parted along marked edges, as `strain_max`, for comparing ways to help
/// it; infinite when the cloth turns over.
/// @param start  [mm] per vertex of `lay`: where to begin, for example its flat shape without help
[[nodiscard]] double parted_strain(const plies::LaySurface& lay,
                                   const std::vector<std::array<bool, 3>>& parted,
                                   std::span<const Vec2> start);

/// The edge of the flat piece: its net line, outer loop counter-clockwise, holes clockwise.
[[nodiscard]] Region2 net_outline(const Piece& piece);

}  // namespace tearline::pieces
