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

/// How woven or biaxial cloth is laid.
struct ClothLaying {
    Vec2 press_first{0, 0};     ///< [mm] in the patch's chart: where it is pressed down first
    Vec3 x{1, 0, 0};            ///< direction that the axis is counted from, in space
    double axis_degrees = 0.0;  ///< from x to the warp, counter-clockwise seen from the laying side
    bool biaxial = false;       ///< fibres at +-45 degrees to the axis instead of along and across
};

/// Lays a ply's surface flat as one piece of woven or biaxial cloth, with its shear.
///
/// The flat piece is the cloth itself: its yarns are straight, at `warp_degrees` and square to it
/// (biaxial: at 45 degrees to it). +x is the direction `x` at the point pressed down first.
/// @error no_safe_answer  as for mat, or the cloth shears shut before it covers the piece
[[nodiscard]] Result<Piece> make_cloth_piece(const plies::LaySurface& lay, std::string id,
                                             const ClothLaying& laying);

/// The edge of the flat piece: its net line, outer loop counter-clockwise, holes clockwise.
[[nodiscard]] Region2 net_outline(const Piece& piece);

}  // namespace tearline::pieces
