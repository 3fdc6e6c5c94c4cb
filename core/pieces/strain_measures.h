#pragma once
#include <array>
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "core/surface/surface_mesh.h"

namespace tearline::pieces {

/// Per triangle, the larger of |s1 - 1| and |s2 - 1|.
[[nodiscard]] std::vector<double> largest_strains(std::span<const std::array<double, 2>> stretch);

/// The largest mean that a per-triangle value has over a geodesic disc clipped to the piece.
struct DiscMean {
    double value = 0.0;
    std::int32_t triangle = -1;  ///< that the disc is centred on; -1 for no triangles
};

/// Mean over discs of a fixed size, so that an answer at the end of a cut converges with the mesh
/// (DEFINITIONS.md, Mat). Discs are drawn on the flat cloth, which is the surface but for a few
/// percent of strain, and reach only what is joined to their centre inside them: not across a slit.
///
/// @param flat      [mm] per vertex
/// @param value     per triangle, >= 0
/// @param diameter  [mm] > 0
[[nodiscard]] DiscMean largest_disc_mean(const surface::SurfaceMesh& mesh,
                                         std::span<const Vec2> flat, std::span<const double> value,
                                         double diameter);

/// A flat mesh that is asked for the means of several values.
struct DiscMesh {
    const surface::SurfaceMesh& mesh;
    std::span<const Vec2> flat;  ///< [mm] per vertex
    std::vector<std::array<std::int32_t, 3>> across = surface::neighbours(mesh);
};
[[nodiscard]] DiscMean largest_disc_mean(const DiscMesh& mesh, std::span<const double> value,
                                         double diameter);

/// The mean over the disc about a triangle alone; nothing where one of its triangles has no value.
[[nodiscard]] std::optional<double> disc_mean(
    const DiscMesh& mesh, const std::function<std::optional<double>(std::int32_t)>& value,
    std::int32_t triangle, double diameter);

/// Area that a disc and a triangle share [mm2].
/// @param corner  [mm] counter-clockwise
[[nodiscard]] double shared_area(const Vec2& centre, double radius,
                                 const std::array<Vec2, 3>& corner);

}  // namespace tearline::pieces
