#pragma once
#include <span>

#include "core/base/outline.h"
#include "core/surface/surface_mesh.h"

namespace tearline::pieces {

/// The edge of a flat mesh: outer loop counter-clockwise, holes clockwise.
///
/// The outer loop is the one with the largest area by its absolute value.
/// @param flat  [mm] per vertex, triangles counter-clockwise
[[nodiscard]] Region2 flat_outline(const surface::SurfaceMesh& mesh, std::span<const Vec2> flat);

}  // namespace tearline::pieces
