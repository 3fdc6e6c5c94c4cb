#pragma once
#include <functional>
#include <optional>
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/surface/surface_mesh.h"

namespace tearline::surface {
class Patch;
}

namespace tearline::parallel {

/// A point of one sheet of the base surface, with how it moves when its chart point moves.
struct SheetPoint {
    Vec3 position;                      ///< [mm] on the base surface
    Vec3 normal;                        ///< unit, towards the laying side
    Eigen::Matrix<double, 3, 2> along;  ///< [-] change of position with the chart's x and y
};

/// The base surface behind a chart point; nothing where the chart ends. On a crease either sheet.
using SurfaceAtChart = std::function<std::optional<SheetPoint>(const Vec2&)>;

/// Depth below the base surface at a chart point [mm], negative above it.
using DepthAtChart = std::function<double(const Vec2&)>;

/// The surface behind a patch, by chart points.
[[nodiscard]] SurfaceAtChart sheet_at_chart(const surface::Patch& patch);

/// A charted mesh of part of the base surface, its creases as edges with two-sided normals.
struct BaseMesh {
    const surface::SurfaceMesh& mesh;                ///< on the base surface
    const std::vector<Vec2>& chart;                  ///< [mm] per vertex, injective
    const std::vector<std::array<bool, 3>>& crease;  ///< per triangle and edge i -> i+1
    SurfaceAtChart at;  ///< the surface itself; also somewhat beyond the mesh
};

/// A crease that the parallel surface met, at the place where it turns most.
struct CreaseMet {
    Vec3 at;             ///< [mm] on the crease
    double turn = 0.0;   ///< [rad] between the sheets; positive where they bulge to the laying side
    double depth = 0.0;  ///< [mm] there
    double length = 0.0;   ///< [mm] of the crease inside the mesh
    double trimmed = 0.0;  ///< [mm] girth lost at `at`
    double opened = 0.0;   ///< [mm] girth gained at `at`
};

/// The points at a given depth from a base surface.
struct ParallelSurface {
    surface::SurfaceMesh mesh;  ///< with its own normals and arc lengths
    std::vector<Vec3> base;     ///< [mm] per vertex: the base point; on a ridge, the crease's
    std::vector<Vec2> chart;    ///< [mm] per vertex: chart point of `base`
    std::vector<std::array<Vec2, 3>> corner_chart;  ///< [mm] base point of that corner's own sheet
    std::vector<std::array<bool, 3>> crease;  ///< ridges and mitres: two-sided edges of `mesh`
    std::vector<bool> arc;  ///< per triangle: part of an arc round an opened crease
    std::vector<std::array<std::int32_t, 3>> across;  ///< surface::neighbours() of `mesh`
    std::vector<CreaseMet> creases;
    std::vector<Loop2> trimmed;  ///< [mm] chart strips that have no point at depth
};

/// Moves a surface to a depth: trimmed along the ridge where sheets meet (inside a convex crease),
/// opened as an arc of radius |depth| where they part.
///
/// @error no_safe_answer  sheets fold where neither rule applies; the message names the place
[[nodiscard]] Result<ParallelSurface> parallel_surface(const BaseMesh& base,
                                                       const DepthAtChart& depth);

}  // namespace tearline::parallel
