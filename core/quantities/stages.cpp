#include "core/quantities/stages.h"

#include <algorithm>

#include "core/base/tolerances.h"

namespace tearline::quantities {

namespace {

/// As many plies a stage as the limit allows, from the first on.
std::vector<std::size_t> fill_up(std::span<const double> thicknesses, double limit) {
    std::vector<std::size_t> counts;
    double height = 0.0;
    for (const double thickness : thicknesses) {
        const bool fits = height + thickness <= limit + tolerance::level;
        if (counts.empty() || !fits) {
            counts.push_back(0);
            height = 0.0;
        }
        ++counts.back();
        height += thickness;
    }
    return counts;
}

/// Every height that some run of neighbouring plies has, ascending.
std::vector<double> heights_of_runs(std::span<const double> thicknesses) {
    std::vector<double> heights;
    for (std::size_t first = 0; first < thicknesses.size(); ++first) {
        double height = 0.0;
        for (std::size_t i = first; i < thicknesses.size(); ++i)
            heights.push_back(height += thicknesses[i]);
    }
    std::sort(heights.begin(), heights.end());
    return heights;
}

}  // namespace

double stage_limit(const job::Job& job) {
    switch (job.layup.position) {
        case job::Position::flat:
            return job.shop.stage_thickness;
        case job::Position::vertical:
            return 0.75 * job.shop.stage_thickness;
        case job::Position::overhead:
            return 0.5 * job.shop.stage_thickness;
    }
    return job.shop.stage_thickness;
}

std::vector<std::size_t> divide_into_stages(std::span<const double> thicknesses, double limit) {
    if (thicknesses.empty()) return {};
    // Filling up needs the fewest stages under any limit, and makes the earlier ones thicker. So
    // the answer is to fill up under the lowest limit that does not need more stages; only the
    // height of some run of plies can be that limit.
    const std::size_t fewest = fill_up(thicknesses, limit).size();
    const double thickest = *std::max_element(thicknesses.begin(), thicknesses.end());
    const std::vector<double> heights = heights_of_runs(thicknesses);
    const auto lowest = std::partition_point(
        std::lower_bound(heights.begin(), heights.end(), thickest), heights.end(),
        [&](double height) { return fill_up(thicknesses, height).size() > fewest; });
    return fill_up(thicknesses, std::min(limit, lowest == heights.end() ? limit : *lowest));
}

}  // namespace tearline::quantities
