#include "core/ground/ends_met.h"

#include <algorithm>

#include "core/ground/ground.h"
#include "core/ground/tolerances.h"
#include "core/plane/nearest_on_line.h"
#include "core/surface/locate_near.h"

namespace tearline::ground {

namespace {

/// Whether regions have part of their edge on a loop of the hull's end.
bool lie_on(const Loop2& end, const std::vector<Region2>& regions) {
    return std::any_of(end.begin(), end.end(), [&](const Vec2& p) {
        return std::any_of(regions.begin(), regions.end(), [&](const Region2& region) {
            return plane::distance_to_edge(region, p) < tolerance::edge_on_end;
        });
    });
}

Vec2 middle_of(const Loop2& loop) {
    Vec2 sum(0, 0);
    for (const Vec2& p : loop) sum += p;
    return sum / static_cast<double>(loop.size());
}

/// Of the line itself, however its points are spread.
Vec3 middle_in_space(const surface::Patch& patch, const Loop2& loop) {
    const auto on_hull = [&](const Vec2& p) {
        return patch.sample(surface::locate_near(patch, p).at).position;
    };
    Vec3 sum = Vec3::Zero(), before = on_hull(loop.back());
    double around = 0.0;
    for (const Vec2& p : loop) {
        const Vec3 here = on_hull(p);
        const double length = (here - before).norm();
        sum += 0.5 * length * (here + before);
        around += length;
        before = here;
    }
    return sum / around;
}

}  // namespace

EndsMet ends_met(const Ground& ground, const std::vector<Region2>& regions) {
    EndsMet met;
    met.outer = lie_on(ground.patch.domain().outer, regions);
    for (const Loop2& hole : ground.patch.domain().holes) {
        const bool named = std::any_of(
            ground.openings.begin(), ground.openings.end(),
            [&](const auto& opening) { return contains(opening.edge.chart, middle_of(hole)); });
        met.named = met.named || named;
        if (!named && lie_on(hole, regions))
            met.holes.push_back(middle_in_space(ground.patch, hole));
    }
    return met;
}

}  // namespace tearline::ground
