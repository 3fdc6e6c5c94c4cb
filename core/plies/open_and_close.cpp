#include "core/plies/open_and_close.h"

#include <algorithm>
#include <utility>

#include "core/base/tolerances.h"
#include "core/plane/boolean.h"
#include "core/plane/grid_contours.h"
#include "core/plane/opening.h"
#include "core/plane/thin_line.h"
#include "core/plane/without_spikes.h"
#include "core/plies/tolerances.h"

namespace tearline::plies {

namespace {

constexpr double chord = tolerance::outline_chord;

/// An edge grown and shrunk has no spikes, but Clipper leaves one where an arc it takes back ends
/// on the very point that the arc was drawn about.
std::vector<Region2> regions_within(std::vector<Loop2> loops) {
    for (Loop2& loop : loops) loop = plane::without_spikes(loop, plane::is_sharp);
    std::erase_if(loops, [](const Loop2& loop) { return loop.size() < 3; });
    return plane::regions_of(std::move(loops));
}

/// How many parts of some regions lie outside others, corners that rounding takes left out.
int parts_outside(const std::vector<Loop2>& loops, const std::vector<Loop2>& others) {
    const auto parts = plane::combined(plane::Boolean::subtract, loops, others);
    return static_cast<int>(std::count_if(parts.begin(), parts.end(), [](const Loop2& part) {
        return signed_area(part) > tolerance::least_tail;
    }));
}

/// Tails and necks narrower than scissors cut off, inlets filled; as it was where there are none.
std::vector<Region2> evened(Region2 region, OpenedRegions& tidy) {
    const std::vector<Loop2> given = plane::loops_of({region});
    const std::vector<Loop2> whole = plane::opened(given, tolerance::scissors, chord);
    const std::vector<Loop2> even = plane::closed(whole, tolerance::scissors, chord);
    const int tails = parts_outside(given, whole), inlets = parts_outside(even, given);
    std::vector<Region2> parts{std::move(region)};
    if (tails == 0 && inlets == 0) return parts;
    std::vector<Region2> found = regions_within(even);
    if (found.empty()) return parts;  // narrow all over: a sliver
    tidy.tails += tails;
    tidy.inlets += inlets;
    for (Region2& part : found) {
        part.outer = plane::thinned(part.outer, tolerance::net_line_chord, tolerance::scissors);
        for (Loop2& hole : part.holes)
            hole = plane::thinned(hole, tolerance::net_line_chord, tolerance::scissors);
    }
    return found;
}

}  // namespace

OpenedRegions open_and_close(std::vector<Region2> regions, double width) {
    OpenedRegions tidy;
    std::vector<Region2> given = std::exchange(regions, {});
    for (Region2& region : given)
        for (Region2& part : evened(std::move(region), tidy)) regions.push_back(std::move(part));
    for (Region2& region : regions) {
        const auto narrow = [&](const Loop2& hole) {
            Loop2 turned(hole.rbegin(), hole.rend());
            return !plane::holds_disc({std::move(turned), {}}, width, chord);
        };
        const auto closed = std::remove_if(region.holes.begin(), region.holes.end(), narrow);
        tidy.closed += static_cast<int>(region.holes.end() - closed);
        region.holes.erase(closed, region.holes.end());
    }
    tidy.joined = tidy.closed;
    std::vector<Region2> slivers;
    for (Region2& region : regions)
        (plane::holds_disc(region, width, chord) ? tidy.regions : slivers)
            .push_back(std::move(region));
    for (Region2& sliver : slivers) {
        // Joined where the gap to a sound part closes as a slit narrower than a sliver.
        for (Region2& sound : tidy.regions) {
            std::vector<Region2> joined =
                regions_within(plane::closed(plane::loops_of({sound, sliver}), width, chord));
            if (joined.size() != 1) continue;
            sound = std::move(joined.front());
            sliver.outer.clear();
            ++tidy.joined;
            break;
        }
        if (sliver.outer.empty()) continue;
        ++tidy.dropped;
        tidy.dropped_mm2 += area(sliver);
    }
    return tidy;
}

}  // namespace tearline::plies
