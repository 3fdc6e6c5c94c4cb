#include "core/damage/foot.h"

#include <array>

#include "core/base/tolerances.h"
#include "core/damage/tolerances.h"
#include "core/surface/trace_geodesic.h"

namespace tearline::damage {

namespace {

void note_rim(const surface::Patch& patch, Foot& foot) {
    const std::size_t t = foot.at.triangle.index();
    for (int i = 0; i < 3; ++i) {
        if (patch.neighbour[t][i] >= 0) continue;
        if (foot.at.weights[(i + 2) % 3] > tolerance::barycentric_slack) continue;
        foot.over_rim = true;
        foot.over_hull_end = foot.over_hull_end || patch.hull_end[t][i];
    }
}

}  // namespace

Foot foot_of(const surface::Patch& patch, const Vec3& point) {
    Foot foot;
    foot.at = patch.nearest(point).at;
    foot.sample = patch.sample(foot.at);
    note_rim(patch, foot);
    // The nearest place of the facets is not yet the foot on the surface behind them: walk the
    // tangential rest.
    constexpr int most_steps = 6;
    for (int step = 0; step < most_steps && !foot.over_rim; ++step) {
        const Vec3 off = point - foot.sample.position;
        const Vec3 rest = off - off.dot(foot.sample.normal) * foot.sample.normal;
        // Curvature shortens the walk: a point h above a radius R casts R / (R + h) of its rest.
        const double bend = 1.0 + off.dot(foot.sample.normal) * foot.sample.curvature_max;
        const double length = rest.norm() / (bend > 1.0 ? bend : 1.0);
        if (!(length > tolerance::outline_foot)) break;
        const std::array<double, 1> distances{length};
        const auto walk = surface::trace_geodesic(patch, {foot.at, rest}, distances);
        foot.at = walk.left_patch ? walk.end : walk.at.front();
        foot.sample = patch.sample(foot.at);
        if (walk.left_patch) {
            foot.over_rim = true;
            foot.over_hull_end = walk.left_over_hull_end;
        }
    }
    foot.distance = (point - foot.sample.position).norm();
    return foot;
}

}  // namespace tearline::damage
