#include <Eigen/LU>

#include "core/parallel/parallel_surface.h"
#include "core/surface/patch.h"

namespace tearline::parallel {

SurfaceAtChart sheet_at_chart(const surface::Patch& patch) {
    return [&patch](const Vec2& chart) -> std::optional<SheetPoint> {
        const auto at = patch.locate(chart);
        if (!at) return std::nullopt;
        const auto& v = patch.mesh.triangle[at->triangle.index()];
        Eigen::Matrix2d plane;
        plane << patch.chart[v[1]] - patch.chart[v[0]], patch.chart[v[2]] - patch.chart[v[0]];
        Eigen::Matrix<double, 3, 2> space;
        space << patch.mesh.position[v[1]] - patch.mesh.position[v[0]],
            patch.mesh.position[v[2]] - patch.mesh.position[v[0]];
        const surface::SurfaceSample sample = patch.sample(*at);
        return SheetPoint{sample.position, sample.normal, space * plane.inverse()};
    };
}

}  // namespace tearline::parallel
