#pragma once
#include <vector>

#include "core/surface/surface_mesh.h"

namespace tearline::surface {

/// A plane chart that is one to one for certain and nothing like isometric: the rim on a circle by
/// arc length, every other vertex in the middle of its neighbours. Openings are spanned by spokes
/// from a vertex of their own.
/// @param rim  the boundary loop that becomes the circle
/// @return     per vertex; empty where the system cannot be solved
/// @source     Tutte, How to draw a graph (1963)
[[nodiscard]] std::vector<Vec2> tutte_chart(const SurfaceMesh& mesh,
                                            const std::vector<std::int32_t>& rim);

/// The same with the rim on a convex line of any form.
/// @param places  [mm] of the rim's vertices, counter-clockwise, no three of them on a straight line
[[nodiscard]] std::vector<Vec2> tutte_chart(const SurfaceMesh& mesh,
                                            const std::vector<std::int32_t>& rim,
                                            const std::vector<Vec2>& places);

}  // namespace tearline::surface
