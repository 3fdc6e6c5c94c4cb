#include "core/surface/carried_surface.h"

#include <algorithm>

namespace tearline::surface {

SurfaceSample CarriedSurface::at(const SurfaceMesh& mesh, const Location& location) const {
    const auto t = location.triangle.index();
    const auto& v = mesh.triangle[t];
    const Vec3& w = location.weights;
    const Vec3 flat =
        w[0] * mesh.position[v[0]] + w[1] * mesh.position[v[1]] + w[2] * mesh.position[v[2]];
    const Carried carried = carrier_->carry(carrier_->between(anchors_[t], w), flat);
    const double low = sign_ * carried.curvature_min;
    const double high = sign_ * carried.curvature_max;
    return {carried.position, sign_ * carried.normal, std::min(low, high), std::max(low, high)};
}

}  // namespace tearline::surface
