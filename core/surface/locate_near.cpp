#include "core/surface/locate_near.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <limits>

#include "core/plane/segment.h"
#include "core/surface/intrinsic.h"

namespace tearline::surface {

Location in_triangle(const Patch& patch, TriangleId triangle, const Vec2& point) {
    const auto& v = patch.mesh.triangle[triangle.index()];
    const Vec2 a = patch.chart[v[0]] - point;
    const Vec2 b = patch.chart[v[1]] - point;
    const Vec2 c = patch.chart[v[2]] - point;
    Vec3 w(cross2(b, c), cross2(c, a), cross2(a, b));
    w = (w / w.sum()).cwiseMax(0.0);
    return {triangle, w / w.sum()};
}

NearLocation locate_near(const Patch& patch, const Vec2& point) {
    if (const auto at = patch.locate(point)) return {*at, point};
    // Rare, so the rim is walked whole.
    NearLocation best;
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            if (patch.neighbour[t][i] >= 0) continue;
            const int j = (i + 1) % 3;
            const Vec2& a = patch.chart[patch.mesh.triangle[t][i]];
            const Vec2& b = patch.chart[patch.mesh.triangle[t][j]];
            const double s = plane::nearest_share(a, b, point);
            const Vec2 on = a + s * (b - a);
            const double distance = (point - on).squaredNorm();
            if (!(distance < nearest)) continue;
            nearest = distance;
            best.at.triangle = TriangleId(t);
            best.at.weights = Vec3::Zero();
            best.at.weights[i] = 1.0 - s;
            best.at.weights[j] = s;
            best.chart = on;
        }
    return best;
}

Vec3 space_direction(const Patch& patch, TriangleId triangle, const Vec2& direction) {
    const auto& v = patch.mesh.triangle[triangle.index()];
    const Vec2 e1 = patch.chart[v[1]] - patch.chart[v[0]];
    const Vec2 e2 = patch.chart[v[2]] - patch.chart[v[0]];
    const double twice = cross2(e1, e2);
    const double w1 = cross2(direction, e2) / twice;
    const double w2 = cross2(e1, direction) / twice;
    return w1 * (patch.mesh.position[v[1]] - patch.mesh.position[v[0]]) +
           w2 * (patch.mesh.position[v[2]] - patch.mesh.position[v[0]]);
}

Vec3 moving_direction(const Patch& patch, const Location& at, const Vec3& rates) {
    const auto& v = patch.mesh.triangle[at.triangle.index()];
    const Vec3 d = rates[0] * patch.mesh.position[v[0]] + rates[1] * patch.mesh.position[v[1]] +
                   rates[2] * patch.mesh.position[v[2]];
    return carry_over(d, facet_normal(patch.mesh, at.triangle), corner_normal(patch.mesh, at))
        .normalized();
}

Vec2 chart_direction(const Patch& patch, TriangleId triangle, const Vec3& direction) {
    const auto& v = patch.mesh.triangle[triangle.index()];
    const Vec3 e1 = patch.mesh.position[v[1]] - patch.mesh.position[v[0]];
    const Vec3 e2 = patch.mesh.position[v[2]] - patch.mesh.position[v[0]];
    const Vec3 normal = e1.cross(e2);
    const double twice2 = normal.squaredNorm();
    const double w1 = direction.cross(e2).dot(normal) / twice2;
    const double w2 = e1.cross(direction).dot(normal) / twice2;
    return w1 * (patch.chart[v[1]] - patch.chart[v[0]]) +
           w2 * (patch.chart[v[2]] - patch.chart[v[0]]);
}

Vec3 facet_normal(const SurfaceMesh& mesh, TriangleId triangle) {
    const auto& v = mesh.triangle[triangle.index()];
    return (mesh.position[v[1]] - mesh.position[v[0]])
        .cross(mesh.position[v[2]] - mesh.position[v[0]])
        .normalized();
}

Vec3 corner_normal(const SurfaceMesh& mesh, const Location& at) {
    const auto& n = mesh.corner_normal[at.triangle.index()];
    return (at.weights[0] * n[0] + at.weights[1] * n[1] + at.weights[2] * n[2]).normalized();
}

}  // namespace tearline::surface
