#include "core/plane/clip_region.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"
#include "core/plane/boolean.h"
#include "core/plane/without_spikes.h"

namespace tearline::plane {
namespace {

bool is_too_small(const Loop2& loop) {
    return std::abs(signed_area(loop)) < tolerance::least_island;
}

std::vector<Loop2> moved(std::vector<Loop2> loops, const Vec2& by) {
    for (Loop2& loop : loops)
        for (Vec2& p : loop) p += by;
    return loops;
}

/// Regions found about an origin, carried back and rid of what crossing curves leave.
std::vector<Region2> cleaned(std::vector<Region2> regions, const Vec2& origin) {
    for (Region2& region : regions) {
        region.outer = moved({region.outer}, origin).front();
        region.holes = moved(std::move(region.holes), origin);
        // Spikes that crossing fronts leave.
        region.outer = without_spikes(region.outer, is_narrow);
        for (Loop2& hole : region.holes) hole = without_spikes(hole, is_narrow);
        std::erase_if(region.holes, is_too_small);
    }
    std::erase_if(regions, [](const Region2& region) { return is_too_small(region.outer); });
    std::stable_sort(regions.begin(), regions.end(), [](const Region2& a, const Region2& b) {
        return signed_area(a.outer) > signed_area(b.outer);
    });
    return regions;
}

}  // namespace

std::vector<Region2> united_inside(const std::vector<Loop2>& loops, const Region2& domain) {
    // About a point of the domain, where whole numbers of the clipper's grid stay small.
    const Vec2 origin = domain.outer.front();
    return cleaned(combined_regions(Boolean::intersect, moved(loops, -origin),
                                    moved(loops_of({domain}), -origin), Winding::positive),
                   origin);
}

std::vector<Region2> regions_without(const std::vector<Region2>& regions,
                                     const std::vector<Loop2>& loops) {
    if (regions.empty() || loops.empty()) return regions;
    const Vec2 origin = regions.front().outer.front();
    std::vector<Region2> taken;
    for (const Loop2& loop : loops) taken.push_back({loop, {}});
    const auto united =
        combined_regions(Boolean::unite, moved(loops_of(taken), -origin), {}, Winding::any);
    return cleaned(
        combined_regions(Boolean::subtract, moved(loops_of(regions), -origin), loops_of(united)),
        origin);
}

}  // namespace tearline::plane
