#include "core/plane/offset_region.h"

#include "core/base/tolerances.h"
#include "core/plane/boolean.h"
#include "core/plane/thin_line.h"
#include "core/plane/tolerances.h"

namespace tearline::plane {
namespace {

/// Regions with the points of their edges that every file keeps.
std::vector<Region2> as_kept(std::vector<Region2> regions) {
    const auto is_line = [](const Loop2& loop) { return loop.size() < 3; };
    for (Region2& region : regions) {
        region.outer = thinned(region.outer, tolerance::outline_thinning);
        for (Loop2& hole : region.holes) hole = thinned(hole, tolerance::outline_thinning);
        std::erase_if(region.holes, is_line);
    }
    std::erase_if(regions, [&](const Region2& region) { return is_line(region.outer); });
    return regions;
}

}  // namespace

std::vector<Region2> offset_region(const Region2& region, double distance) {
    return as_kept(offset_regions(loops_of({region}), distance, tolerance::tear_rounding));
}

std::vector<Region2> common_region(const std::vector<Region2>& a, const std::vector<Region2>& b) {
    return as_kept(combined_regions(Boolean::intersect, loops_of(a), loops_of(b)));
}

std::vector<Region2> united_regions(const std::vector<Region2>& regions) {
    return as_kept(combined_regions(Boolean::unite, loops_of(regions), {}));
}

}  // namespace tearline::plane
