#pragma once
#include <optional>
#include <span>

#include "core/base/outline.h"
#include "core/surface/surface_mesh.h"

namespace tearline::pieces {

/// The edge of a flat mesh: outer loop counter-clockwise, holes clockwise.
///
/// The outer loop is the one with the largest area by its absolute value.
/// @param flat  [mm] per vertex, triangles counter-clockwise
[[nodiscard]] Region2 flat_outline(const surface::SurfaceMesh& mesh, std::span<const Vec2> flat);

/// A place where the edges of a region cross one another [mm]; nothing when they do not.
///
/// Edges that only touch, as the two sides of a closed slit do, are no crossing.
[[nodiscard]] std::optional<Vec2> crossing(const Region2& region);

/// Every such place.
[[nodiscard]] std::vector<Vec2> crossings(const Region2& region);

}  // namespace tearline::pieces
