#include "core/plies/opening_levels.h"

#include <algorithm>
#include <stdexcept>

#include "core/plies/net_region.h"

namespace tearline::plies {

const Loop2& OpeningLevels::at(double asked) const {
    const auto found = std::find(distance.begin(), distance.end(), asked);
    if (found == distance.end())
        throw std::logic_error("OpeningLevels::at: that distance was not asked for");
    return loop[static_cast<std::size_t>(found - distance.begin())];
}

Result<OpeningLevels> opening_levels(const surface::Patch& patch,
                                     const damage::KeptOpening& opening,
                                     std::span<const double> distances) {
    OpeningLevels levels;
    levels.distance.assign(distances.begin(), distances.end());
    levels.distance.push_back(0.0);
    std::sort(levels.distance.begin(), levels.distance.end());
    levels.distance.erase(std::unique(levels.distance.begin(), levels.distance.end()),
                          levels.distance.end());
    levels.sweep = dish::sweep_offsets(patch, opening.edge, levels.distance);
    const auto regions = net_regions(patch, levels.sweep, levels.distance);
    if (!regions) return tl::unexpected(regions.error());
    for (const NetRegion& region : *regions) {
        // What lies in it is not hull, or is taken out anyhow: its outer edge alone counts.
        const bool edge = region.offset == 0.0 || region.chart.empty();
        levels.loop.push_back(edge ? opening.edge.chart : region.chart.front().outer);
        levels.at_hull_end.push_back(region.cut_at_hull_end);
    }
    return levels;
}

}  // namespace tearline::plies
