#pragma once
#include "core/plies/region_skeleton.h"

namespace tearline::plies {

/// Points of nested triangular lattices inside a region, each lattice where its edge length is
/// asked for, none crowding the kept edges.
[[nodiscard]] std::vector<Vec2> lattice_points(const RegionSkeleton& base);

}  // namespace tearline::plies
