#include "core/plies/false_holes.h"

#include <algorithm>
#include <limits>

#include "core/plane/box.h"
#include "core/plies/tolerances.h"
#include "core/surface/fast_marching.h"
#include "core/surface/locate_near.h"

namespace tearline::plies {

bool FalseHoles::holds_opening(const Loop2& hole) const {
    for (const Loop2& opening : patch_.domain().holes)
        for (const Vec2& p : opening) {
            if (contains(hole, p)) return true;
            for (const Vec2& q : hole)
                if ((p - q).norm() < tolerance::hole_certain) return true;
        }
    return false;
}

void FalseHoles::march() {
    constexpr double far = std::numeric_limits<double>::infinity();
    std::vector<double> known(patch_.chart.size(), far);
    for (std::size_t v = 0; v < known.size(); ++v)
        if (contains(sweep_.outline, patch_.chart[v])) known[v] = 0.0;
    for (const dish::SweptRay& ray : sweep_.fronts.front().rays) {
        const Vec3 from = patch_.sample(ray.source.at).position;
        for (const std::int32_t v : patch_.mesh.triangle[ray.source.at.triangle.index()])
            known[v] = std::min(known[v], (patch_.mesh.position[v] - from).norm());
    }
    std::vector<surface::KnownDistance> start;
    for (std::size_t v = 0; v < known.size(); ++v)
        if (known[v] < far) start.push_back({static_cast<std::int32_t>(v), known[v]});
    distance_ = surface::march_distance(patch_.mesh, start);
}

bool FalseHoles::covers(const Loop2& hole, double offset) {
    if (holds_opening(hole)) return false;
    if (distance_.empty()) march();
    const auto [low, high] = plane::box_round(hole);
    constexpr double looks = 25.0;  // across the hole
    const double step = (high - low).maxCoeff() / looks;
    double farthest = 0.0;
    for (double y = low.y(); y <= high.y(); y += step)
        for (double x = low.x(); x <= high.x(); x += step) {
            if (!contains(hole, Vec2(x, y))) continue;
            const auto at = surface::locate_near(patch_, {x, y}).at;
            const auto& v = patch_.mesh.triangle[at.triangle.index()];
            const double here = at.weights[0] * distance_[v[0]] + at.weights[1] * distance_[v[1]] +
                                at.weights[2] * distance_[v[2]];
            farthest = std::max(farthest, here);
        }
    return farthest <= offset + tolerance::hole_certain;
}

}  // namespace tearline::plies
