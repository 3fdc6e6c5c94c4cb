#include "core/plan/count_strips.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "core/plan/tolerances.h"

namespace tearline::plan {

namespace {

// Measured: 26 plies of mat over 6 m, 130 strips by this count and 153 pieces in the end, take 18 s
// of processor time, 62 of cloth, 316 strips and 417 pieces, 128 s.
constexpr std::size_t most_strips = 150;

std::size_t strips_of(const Region2& region, double roll_width) {
    const double width = least_breadth(region.outer).width;
    return static_cast<std::size_t>(
        std::max(std::ceil(width / (tolerance::strip_in_chart * roll_width)), 1.0));
}

}  // namespace

Result<void> check_count_of_strips(const ground::Ground& ground, const job::Job& job,
                                   std::span<const plies::PlyLevel> levels) {
    std::size_t count = 0;
    for (const plies::PlyLevel& level : levels)
        for (const Region2& region : ground.region_of(level).chart)
            count += strips_of(region, job.fabrics.at(level.entry.fabric).roll_width);
    if (count <= most_strips) return {};
    return no_safe_answer(
        "layup", std::to_string(levels.size()) + " plies of this size take at least " +
                     std::to_string(count) + " pieces of cloth, and at most " +
                     std::to_string(most_strips) +
                     " are planned at once; fewer plies of a heavier cloth, a wider roll "
                     "(roll_width) or the damage in several parts, a job for each, would change "
                     "it");
}

}  // namespace tearline::plan
