#include "core/patch/needles.h"

#include <Eigen/Geometry>
#include <algorithm>

#include "core/patch/tolerances.h"

namespace tearline::patch {
namespace {

bool is_thin(const std::vector<Vec3>& position, const std::array<std::int32_t, 3>& v) {
    const Vec3& a = position[v[0]];
    const Vec3& b = position[v[1]];
    const Vec3& c = position[v[2]];
    const double longest = std::max({(b - a).norm(), (c - b).norm(), (a - c).norm()});
    const double height = (b - a).cross(c - a).norm() / longest;
    return !(height > tolerance::needle_height) && longest > tolerance::needle_shape * height;
}

}  // namespace

Needles::Needles(const std::vector<Vec3>& position, const Corners& vertex,
                 const Corners& neighbour) {
    std::vector<bool> thin(vertex.size());
    for (std::size_t t = 0; t < vertex.size(); ++t) thin[t] = is_thin(position, vertex[t]);
    if (std::find(thin.begin(), thin.end(), true) == thin.end()) return;
    cluster_.assign(vertex.size(), -1);
    std::vector<std::int32_t> visited(vertex.size(), -1), members;
    for (std::size_t start = 0; start < thin.size(); ++start) {
        if (!thin[start] || visited[start] >= 0) continue;
        const auto number = static_cast<std::int32_t>(shore_.size());
        std::vector<std::int32_t> shore;
        members.assign(1, static_cast<std::int32_t>(start));
        visited[start] = number;
        for (std::size_t k = 0; k < members.size(); ++k)
            for (const std::int32_t n : neighbour[members[k]]) {
                if (n < 0 || visited[n] == number) continue;
                visited[n] = number;
                (thin[n] ? members : shore).push_back(n);
            }
        if (shore.empty()) continue;
        for (const std::int32_t t : members) cluster_[t] = number;
        shore_.push_back(std::move(shore));
    }
}

surface::NearestTriangle Needles::stand_in(std::int32_t facet, const std::vector<Vec3>& position,
                                           const Corners& vertex, const Vec3& point) const {
    surface::NearestTriangle best;
    for (const std::int32_t t : shore_[cluster_[facet]]) {
        const auto& v = vertex[t];
        const std::array<Vec3, 3> corner{position[v[0]], position[v[1]], position[v[2]]};
        const Vec3 w = surface::nearest_weights(corner, point);
        const double distance =
            (w[0] * corner[0] + w[1] * corner[1] + w[2] * corner[2] - point).norm();
        if (!best.triangle.valid() || distance < best.distance) best = {TriangleId(t), w, distance};
    }
    return best;
}

}  // namespace tearline::patch
