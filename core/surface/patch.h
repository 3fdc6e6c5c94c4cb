#pragma once
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/surface/surface_mesh.h"

namespace tearline::surface {

/// A place on the patch: a triangle and where in it.
struct Location {
    TriangleId triangle;
    Vec3 weights{0, 0, 0};  ///< barycentric, sum 1
};

/// What the base surface is like at one place.
struct SurfaceSample {
    Vec3 position;  ///< [mm] on the base surface
    Vec3 normal;    ///< unit, towards the laying side
    double curvature_min =
        0;  ///< [1/mm] principal, positive where the surface bulges to the laying side
    double curvature_max = 0;  ///< [1/mm]
};

/// Evaluates the surface behind a patch: CAD faces, or the smooth surface through a mesh.
class SurfaceBehind;

/// The hull round one repair, carried all the way from hull to templates.
///
/// One connected piece of the base surface with near-equilateral triangles, its crease edges, arc
/// lengths, a plane chart without overlaps, and the surface itself behind it.
class Patch {
public:
    SurfaceMesh mesh;
    std::vector<Vec2> chart;  ///< [mm] per vertex: near-isometric, injective
    std::vector<std::array<std::int32_t, 3>> neighbour;  ///< per triangle and edge, -1 at the rim
    std::vector<std::array<bool, 3>> crease;             ///< per triangle and edge i -> i+1
    std::vector<std::array<bool, 3>>
        hull_end;  ///< rim edges that are the hull's own end, not where the patch was cropped
    bool ends_with_figures = false;  ///< the hull was measured by hand, and ends where that ended
    std::shared_ptr<const SurfaceBehind> behind;

    /// The base surface at a location, with the normal of that triangle's own side of a crease.
    [[nodiscard]] SurfaceSample sample(const Location& at) const;

    /// The location whose chart point is `chart_point`; nothing outside the chart.
    [[nodiscard]] std::optional<Location> locate(const Vec2& chart_point) const;

    /// The location nearest to a point of space, with its distance [mm].
    struct Nearest {
        Location at;
        double distance;
    };
    [[nodiscard]] Nearest nearest(const Vec3& point) const;

    [[nodiscard]] Vec2 chart_point(const Location& at) const;

    /// The chart's own edge: outer loop and one hole per opening.
    [[nodiscard]] const Region2& domain() const { return domain_; }

    /// Creases as polylines of vertex indices.
    [[nodiscard]] const std::vector<std::vector<std::int32_t>>& crease_lines() const {
        return crease_lines_;
    }

    Region2 domain_;
    std::vector<std::vector<std::int32_t>> crease_lines_;

    struct Index;  ///< search structures for locate() and nearest()
    std::shared_ptr<const Index> index;
};

/// Fills in what follows from mesh, chart, crease and hull_end: arc lengths where they are missing,
/// neighbours, domain, crease lines and the search structures.
///
/// @pre mesh.position, mesh.triangle, mesh.corner_normal, chart and behind are set
void finish_patch(Patch& patch);

}  // namespace tearline::surface
