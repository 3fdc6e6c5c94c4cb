#include "core/plies/net_region.h"

#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/plane/clip_region.h"
#include "core/plane/thin_line.h"
#include "core/plies/false_holes.h"
#include "core/plies/tolerances.h"
#include "core/surface/locate_near.h"
#include "core/surface/surface_behind.h"

namespace tearline::plies {
namespace {

/// Points of a net line are no farther apart than this where it bends [mm].
constexpr double longest_chord = 5.0;

Loop3 on_base(const surface::Patch& patch, Loop2& loop) {
    Loop3 out;
    out.reserve(loop.size());
    for (Vec2& p : loop) {
        const auto near = surface::locate_near(patch, p);
        p = near.chart;
        out.push_back(patch.sample(near.at).position);
    }
    return out;
}

NetRegion region_at(const surface::Patch& patch, const dish::OffsetSweep& sweep, double offset,
                    FalseHoles& missed) {
    std::vector<Loop2> loops;
    NetRegion region;
    region.offset = offset;
    for (const dish::Front& front : sweep.fronts) {
        if (front.start >= offset && front.start > 0.0) continue;
        loops.push_back(dish::raw_front(sweep, front, offset));
        for (const dish::SweptRay& ray : front.rays)
            if (ray.over_hull_end && ray.on_patch < offset) region.cut_at_hull_end = true;
    }
    region.chart = plane::united_inside(loops, patch.domain());
    for (Region2& part : region.chart) {
        std::erase_if(part.holes, [&](const Loop2& hole) { return missed.covers(hole, offset); });
        part.outer = plane::thinned(part.outer, tolerance::net_line_chord, longest_chord);
        Region3 lifted{on_base(patch, part.outer), {}};
        for (Loop2& hole : part.holes) {
            hole = plane::thinned(hole, tolerance::net_line_chord, longest_chord);
            lifted.holes.push_back(on_base(patch, hole));
        }
        region.on_base.push_back(std::move(lifted));
    }
    return region;
}

}  // namespace

NetRegion without(const surface::Patch& patch, const NetRegion& region,
                  const std::vector<Loop2>& loops) {
    if (loops.empty()) return region;
    NetRegion out{
        region.offset, plane::regions_without(region.chart, loops), {}, region.cut_at_hull_end};
    for (Region2& part : out.chart) {
        Region3 lifted{on_base(patch, part.outer), {}};
        for (Loop2& hole : part.holes) lifted.holes.push_back(on_base(patch, hole));
        out.on_base.push_back(std::move(lifted));
    }
    return out;
}

Result<std::vector<NetRegion>> net_regions(const surface::Patch& patch,
                                           const dish::OffsetSweep& sweep,
                                           std::span<const double> offsets) {
    // Of a tube that is rolled out what lies over the rim of its chart lies in it a turn away.
    const bool winds = patch.behind->winding() != nullptr;
    for (const dish::Front& front : sweep.fronts)
        for (const dish::SweptRay& ray : front.rays)
            if (!winds && ray.left_patch && !ray.over_hull_end && ray.on_patch < offsets.back())
                return no_safe_answer(
                    "the hull's neighbourhood of the damage was cut out too small: it ends " +
                    fixed(ray.on_patch, 1) + " mm outside the damage outline, and a ply reaches " +
                    fixed(offsets.back(), 1) + " mm");
    std::vector<NetRegion> regions;
    FalseHoles missed(patch, sweep);
    for (const double offset : offsets) regions.push_back(region_at(patch, sweep, offset, missed));
    return regions;
}

Result<std::vector<NetRegion>> net_regions(const surface::Patch& patch,
                                           const damage::DamageOutline& outline,
                                           std::span<const double> offsets) {
    if (offsets.empty()) return std::vector<NetRegion>{};
    return net_regions(patch, dish::sweep_offsets(patch, outline, offsets), offsets);
}

}  // namespace tearline::plies
