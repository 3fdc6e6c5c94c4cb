#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "core/base/outline.h"
#include "core/pieces/piece.h"

namespace tearline::templates {

/// The net line of a piece: the edge of its flat mesh, thinned to tolerance::outline_thinning.
///
/// @return  outer loop counter-clockwise, holes clockwise [mm]
[[nodiscard]] Region2 net_region(const pieces::Piece& piece);

/// Where the plane through `origin` square to `across` cuts the net line of a piece, on the side
/// that `towards` points to: the place of a match tick, the same on every ply.
struct EdgeCrossing {
    Vec2 at;       ///< [mm] flat
    Vec2 outward;  ///< unit, flat, square to the net line
};

/// The outermost crossing, or nothing.
///
/// @param loops            boundary_loops() of the piece's lay
/// @param origin           [mm] the middle of the damage
/// @param across, towards  unit vectors, square to each other
[[nodiscard]] std::optional<EdgeCrossing> edge_crossing(
    const pieces::Piece& piece, const std::vector<std::vector<std::int32_t>>& loops,
    const Vec3& origin, const Vec3& across, const Vec3& towards);

}  // namespace tearline::templates
