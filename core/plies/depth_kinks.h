#pragma once
#include <span>
#include <vector>

#include "core/plies/net_region.h"
#include "core/plies/ply_levels.h"

namespace tearline::plies {

/// Offsets inside a ply's edge at which the depth of its mid-plane has a kink [mm], ascending: the
/// foot and the top of the scarf, its rings, and where a cover leaves the dish.
///
/// A ply's mesh should keep these lines as edges (RegionMeshOptions::lines).
/// @param dish  profile as (offset outside the outline, depth) pairs [mm]; a smooth dish has none
[[nodiscard]] std::vector<double> depth_kinks(std::span<const Vec2> dish, const PlyLevel& ply);

/// The edges of regions as closed chart polylines, for RegionMeshOptions::lines.
[[nodiscard]] std::vector<std::vector<Vec2>> edge_lines(const NetRegion& region);

/// Lines of ascending offsets without what runs along one farther out: round a tube all that meet
/// themselves do so at one line, and it is kept as an edge once.
[[nodiscard]] std::vector<std::vector<Vec2>> without_shared_runs(
    const std::vector<std::vector<Vec2>>& lines);

}  // namespace tearline::plies
