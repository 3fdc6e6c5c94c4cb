#include "core/dish/measured_dish.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"
#include "core/dish/tolerances.h"

namespace tearline::dish {

namespace {

bool inside(const std::vector<Region2>& ground, const Vec2& p) {
    return std::any_of(ground.begin(), ground.end(),
                       [&](const Region2& region) { return contains(region, p); });
}

}  // namespace

double MeasuredDish::depth(const Vec2& p) const {
    return inside(ground_, p) ? std::clamp(before_cut(p), 0.0, deepest_) : 0.0;
}

void MeasuredDish::find_levels() {
    field_ = sampled(*this, 2.0 * tolerance::least_island);
}

std::vector<Region2> MeasuredDish::deeper_than(double depth) const {
    std::vector<Loop2> loops = plane::contours(field_, depth);
    // From the straight lines of the grid onto the curve itself.
    constexpr int most_steps = 4;
    for (Loop2& loop : loops)
        for (Vec2& p : loop)
            for (int step = 0; step < most_steps; ++step) {
                const Vec2 rise = slope(p);
                const double off = before_cut(p) - depth;
                if (!(std::abs(off) > tolerance::contour * rise.norm())) break;
                const Vec2 on = p - off / rise.squaredNorm() * rise;
                if (!((on - p).norm() < tolerance::contour_reach) || !inside(ground_, on)) break;
                p = on;
            }
    return plane::regions_of(std::move(loops));
}

}  // namespace tearline::dish
