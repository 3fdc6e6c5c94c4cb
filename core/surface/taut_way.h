#pragma once
#include <optional>
#include <vector>

#include "core/surface/patch.h"

namespace tearline::surface {

/// What of a way lies in one triangle.
struct Stretch {
    TriangleId triangle;
    Vec3 from{0, 0, 0}, to{0, 0, 0};  ///< barycentric
    double length = 0.0;              ///< [mm] > 0
};

/// The way between two places that no small change makes shorter, as a thread pulled taut.
///
/// Rays shot from a place part behind every vertex with more than a whole turn about it, and none
/// reaches what lies between; a thread goes through that vertex.
///
/// @return nothing where the patch does not join them, where the rim holds the way, or for one
///         place
/// @source funnel of Lee and Preparata (1984) in a strip of triangles, the strip turned over round
///         the vertices where the way bends until no turn shortens it (Xin and Wang, 2007); both
///         from memory
[[nodiscard]] std::optional<std::vector<Stretch>> taut_way(const Patch& patch, const Location& from,
                                                           const Location& to);

}  // namespace tearline::surface
