#include "core/dish/volume_under.h"

#include <Eigen/Geometry>
#include <stdexcept>

namespace tearline::dish {

double volume_under(const surface::SurfaceMesh& mesh, std::span<const double> depth) {
    if (depth.size() != mesh.position.size())
        throw std::logic_error("volume_under: one depth for each vertex is needed");
    double volume = 0.0;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t) {
        const auto& v = mesh.triangle[t];
        const auto& n = mesh.corner_normal[t];
        // Section at a fraction s of the way down, and the mean way down per fraction.
        const auto flow = [&](double s) {
            std::array<Vec3, 3> p;
            Vec3 down = Vec3::Zero();
            for (int i = 0; i < 3; ++i) {
                p[i] = mesh.position[v[i]] - s * depth[v[i]] * n[i];
                down -= depth[v[i]] * n[i] / 3.0;
            }
            return -0.5 * (p[1] - p[0]).cross(p[2] - p[0]).dot(down);
        };
        volume += (flow(0.0) + 4.0 * flow(0.5) + flow(1.0)) / 6.0;
    }
    return volume;
}

}  // namespace tearline::dish
