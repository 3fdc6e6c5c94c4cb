#pragma once
#include <array>
#include <span>
#include <vector>

#include "core/plies/lay_surface.h"

namespace tearline::pieces {

/// A lay surface parted along some of its edges: every side of a cut has vertices of its own.
struct PartedSurface {
    plies::LaySurface lay;
    std::vector<std::int32_t> from;  ///< per vertex: the one it was before
};

/// Parts a surface along marked edges; where a cut ends inside, its tip stays one vertex.
///
/// @param parted  per triangle and edge i -> i+1; an edge marked from one side is marked from both
[[nodiscard]] PartedSurface part_along(const plies::LaySurface& lay,
                                       std::vector<std::array<bool, 3>> parted);

/// The edges of a mesh that lie on a line of the chart, marked on both sides.
[[nodiscard]] std::vector<std::array<bool, 3>> edges_on(const plies::LaySurface& lay,
                                                        std::span<const Vec2> chart_line);

/// The edges of the way through a mesh, from rim to tip, that keeps nearest to a stroke of the
/// chart: a cut to try before a mesh is made for it.
[[nodiscard]] std::vector<std::array<bool, 3>> edges_near(const plies::LaySurface& lay,
                                                          const Vec2& mouth, const Vec2& tip);

/// A lay surface taken apart into groups of its triangles, and these into what hangs together.
struct SurfacePart {
    plies::LaySurface lay;
    std::int32_t group = 0;
};
/// @param group  per triangle
[[nodiscard]] std::vector<SurfacePart> parts_of(const plies::LaySurface& lay,
                                                std::span<const std::int32_t> group);

}  // namespace tearline::pieces
