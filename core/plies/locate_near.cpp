#include "core/plies/locate_near.h"

#include <algorithm>
#include <limits>

namespace tearline::plies {

surface::Location in_triangle(const surface::Patch& patch, TriangleId triangle, const Vec2& point) {
    const auto& v = patch.mesh.triangle[triangle.index()];
    const Vec2 a = patch.chart[v[0]] - point;
    const Vec2 b = patch.chart[v[1]] - point;
    const Vec2 c = patch.chart[v[2]] - point;
    Vec3 w(cross2(b, c), cross2(c, a), cross2(a, b));
    w = (w / w.sum()).cwiseMax(0.0);
    return {triangle, w / w.sum()};
}

NearLocation locate_near(const surface::Patch& patch, const Vec2& point) {
    if (const auto at = patch.locate(point)) return {*at, point};
    // Rare, so the rim is walked whole.
    NearLocation best;
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            if (patch.neighbour[t][i] >= 0) continue;
            const int j = (i + 1) % 3;
            const Vec2& a = patch.chart[patch.mesh.triangle[t][i]];
            const Vec2 u = patch.chart[patch.mesh.triangle[t][j]] - a;
            const double s = std::clamp((point - a).dot(u) / u.squaredNorm(), 0.0, 1.0);
            const double distance = (point - a - s * u).squaredNorm();
            if (!(distance < nearest)) continue;
            nearest = distance;
            best.at.triangle = TriangleId(t);
            best.at.weights = Vec3::Zero();
            best.at.weights[i] = 1.0 - s;
            best.at.weights[j] = s;
            best.chart = a + s * u;
        }
    return best;
}

}  // namespace tearline::plies
