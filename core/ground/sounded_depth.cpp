#include "core/ground/sounded_depth.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "core/dish/offset_sweep.h"
#include "core/dish/scanned_dish.h"
#include "core/ground/corrected_soundings.h"
#include "core/ground/ground.h"
#include "core/ground/measured_ground.h"
#include "core/ground/tolerances.h"
#include "core/job/effective_json.h"
#include "core/job/given.h"
#include "core/plies/net_region.h"
#include "core/plies/ply_levels.h"

namespace tearline::ground {

namespace {

/// The dish before its depth is known: the outline, and no scarf round it.
Result<plies::PlyLevels> no_scarf() {
    plies::PlyLevels levels;
    levels.dish = {{0.0, 0.0}};
    return levels;
}

/// The deepest of the soundings in the ground area as far as it is known [mm].
Result<double> deepest(const job::Job& job, const Ground& ground) {
    auto soundings = nearest_places(job, ground.patch);
    std::vector<double> offsets{0.0};
    if (ground.scarf_offset > 0.0 && outline_is_floor(job, soundings, ground.outline.chart))
        offsets.push_back(ground.scarf_offset);
    const auto sweep = dish::sweep_offsets(ground.patch, ground.outline, offsets);
    const auto regions = plies::net_regions(ground.patch, sweep, offsets);
    if (!regions) return tl::unexpected(regions.error());
    const std::vector<Region2>& area = regions->back().chart;
    double most = 0.0;
    for (PlacedSounding& one : soundings) {
        if (!one.on_patch || !in_any(area, one.chart)) continue;
        const auto depth = depth_below_old_surface(ground, area, one);
        if (!depth) return tl::unexpected(depth.error());
        most = std::max(most, *depth);
    }
    return most;
}

/// The deepest sounding were the dish as deep as the job says [mm].
Result<double> deepest_in(const job::Job& job, const hull::Hull& hull) {
    auto levels = job.damage.depth > 0.0 ? plies::ply_levels(job) : no_scarf();
    if (!levels) return tl::unexpected(levels.error());
    const auto ground = bare_ground(job, hull, std::move(*levels));
    if (!ground) return tl::unexpected(ground.error());
    return deepest(job, *ground);
}

/// Whether a deeper dish with its wider rims would be read the same: the rims fall away by the
/// square of their width, so that it shows at the deepest that there can be.
bool deeper_reads_the_same(job::Job job, const hull::Hull& hull) {
    job.damage.depth = job.hull.skin.value_or(tolerance::thickest_skin);
    const auto depth = deepest_in(job, hull);
    return depth && *depth > job.damage.depth;
}

Result<job::Job> with_scanned_depth(job::Job job, const hull::Hull& hull) {
    const auto ground = bare_ground(job, hull, *no_scarf());
    if (!ground) return tl::unexpected(ground.error());
    const auto depth = deepest_scanned(job, *ground);
    if (!depth) return tl::unexpected(depth.error());
    constexpr double shown = 100.0;  // hundredths of a mm: no scan tells more
    job.damage.depth = std::round(shown * *depth) / shown;
    job.effective_json = job::effective_json(job);
    return job;
}

Error no_depth(const std::string& why) {
    return {.key = "damage.depth",
            .what = "missing, and the soundings give none: " + why +
                    "; write how deep the deepest place lies under the old "
                    "surface"};
}

}  // namespace

Result<job::Job> with_depth(job::Job job, const hull::Hull& hull) {
    if (job.damage.depth > 0.0) return job;
    if (auto known = check_cured_work(job, hull); !known) return tl::unexpected(known.error());
    if (hull.dish) return with_scanned_depth(std::move(job), hull);
    job::Job first = job;
    first.after_ply = 0;
    constexpr int most_passes = 20;
    for (int pass = 0; pass < most_passes; ++pass) {
        const auto depth = deepest_in(first, hull);
        if (!depth) return tl::unexpected(depth.error());
        if (!(*depth > 0.0))
            return tl::unexpected(
                no_depth("less what the straightedges stand over the old surface, none is deeper "
                         "than 0 mm"));
        const double before = std::exchange(first.damage.depth, *depth);
        if (!(std::abs(*depth - before) <= tolerance::sounded_depth)) continue;
        // Where no scarf and this one gave the same depth, none gives another.
        if (pass > 1 && deeper_reads_the_same(first, hull)) break;
        job.damage.depth = *depth;
        job.effective_json = job::effective_json(job);
        return job;
    }
    return tl::unexpected(no_depth(
        "the hull falls away so fast under the straightedges that dishes of different depth are "
        "read the same"));
}

Warnings depth_taken(const job::Job& job, const Ground& ground) {
    const bool scanned = job.damage.scanned(job.hull.scan);
    if (!scanned && job.damage.soundings.empty()) return {};
    if (job::is_given(job, "damage.depth")) return {};
    constexpr double k = 2.0;
    const dish::ScannedDish* dish = ground.dish->scan();
    return {{warn::DepthTaken{job.damage.depth, scanned, dish ? k * dish->deepest_error() : 0.0}}};
}

}  // namespace tearline::ground
