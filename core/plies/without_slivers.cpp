#include <algorithm>
#include <cmath>
#include <polyclipping/clipper.hpp>
#include <utility>

#include "core/base/tolerances.h"
#include "core/plane/clip_region.h"
#include "core/plies/sounded_levels.h"
#include "core/plies/tolerances.h"

namespace tearline::plies {

namespace {

using ClipperLib::Path;
using ClipperLib::Paths;

/// Clipper counts in whole steps: as large as the chart, fine enough for a knife.
Path path_of(const Loop2& loop) {
    Path path;
    for (const Vec2& p : loop)
        path.emplace_back(std::llround(p.x() / tolerance::clipper_grid),
                          std::llround(p.y() / tolerance::clipper_grid));
    return path;
}

Paths paths_of(const std::vector<Region2>& regions) {
    Paths paths;
    for (const Region2& region : regions) {
        paths.push_back(path_of(region.outer));
        for (const Loop2& hole : region.holes) paths.push_back(path_of(hole));
    }
    return paths;
}

Paths grown(const Paths& paths, double by) {
    ClipperLib::ClipperOffset offset(2.0, tolerance::outline_chord / tolerance::clipper_grid);
    offset.AddPaths(paths, ClipperLib::jtRound, ClipperLib::etClosedPolygon);
    Paths out;
    offset.Execute(out, by / tolerance::clipper_grid);
    return out;
}

bool holds_width(const std::vector<Region2>& regions, double width) {
    return !grown(paths_of(regions), -0.5 * width).empty();
}

/// Without points where the line turns back on itself: an edge grown and shrunk has none, but
/// Clipper leaves one where an arc it takes back ends on the very point that the arc was drawn
/// about.
Loop2 without_spurs(const Loop2& loop) {
    constexpr double sine = 0.1;
    Loop2 out;
    const auto turns_back = [&](const Vec2& before, const Vec2& tip, const Vec2& after) {
        const Vec2 u = before - tip, v = after - tip;
        return u.dot(v) > 0.0 && std::abs(cross2(u, v)) < sine * u.norm() * v.norm();
    };
    for (std::size_t i = 0; i < loop.size(); ++i) {
        out.push_back(loop[i]);
        while (out.size() >= 3 && turns_back(out[out.size() - 3], out[out.size() - 2], out.back()))
            out.erase(out.end() - 2);
    }
    // And across the seam.
    while (out.size() >= 4 && turns_back(out[out.size() - 2], out.back(), out.front()))
        out.pop_back();
    while (out.size() >= 4 && turns_back(out.back(), out.front(), out[1])) out.erase(out.begin());
    return out;
}

std::vector<Region2> regions_of_paths(const Paths& paths) {
    std::vector<Loop2> loops;
    for (const Path& path : paths) {
        loops.emplace_back();
        for (const auto& p : path)
            loops.back().emplace_back(static_cast<double>(p.X) * tolerance::clipper_grid,
                                      static_cast<double>(p.Y) * tolerance::clipper_grid);
        loops.back() = without_spurs(loops.back());
    }
    return dish::regions_of(std::move(loops));
}

/// How many parts of some paths lie outside others, corners that rounding takes left out.
int parts_outside(const Paths& paths, const Paths& others) {
    ClipperLib::Clipper clipper;
    clipper.AddPaths(paths, ClipperLib::ptSubject, true);
    clipper.AddPaths(others, ClipperLib::ptClip, true);
    Paths parts;
    clipper.Execute(ClipperLib::ctDifference, parts, ClipperLib::pftNonZero,
                    ClipperLib::pftNonZero);
    const double square = tolerance::clipper_grid * tolerance::clipper_grid;
    return static_cast<int>(std::count_if(parts.begin(), parts.end(), [&](const Path& part) {
        return ClipperLib::Area(part) * square > tolerance::least_tail;
    }));
}

/// Tails and necks narrower than scissors cut off, inlets filled; as it was where there are none.
/// What lies inside another region still does: both steps keep that order (opening and closing of
/// mathematical morphology).
std::vector<Region2> evened(Region2 region, TidyRegions& tidy) {
    constexpr double half = 0.5 * tolerance::scissors;
    const Paths given = paths_of({region});
    const Paths whole = grown(grown(given, -half), half);
    const Paths even = grown(grown(whole, half), -half);
    const int tails = parts_outside(given, whole), inlets = parts_outside(even, given);
    std::vector<Region2> parts{std::move(region)};
    if (tails == 0 && inlets == 0) return parts;
    std::vector<Region2> found = regions_of_paths(even);
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

TidyRegions without_slivers(std::vector<Region2> regions, double width) {
    TidyRegions tidy;
    std::vector<Region2> given = std::exchange(regions, {});
    for (Region2& region : given)
        for (Region2& part : evened(std::move(region), tidy)) regions.push_back(std::move(part));
    for (Region2& region : regions) {
        const auto narrow = [&](const Loop2& hole) {
            Loop2 turned(hole.rbegin(), hole.rend());
            return !holds_width({{std::move(turned), {}}}, width);
        };
        const auto closed = std::remove_if(region.holes.begin(), region.holes.end(), narrow);
        tidy.closed += static_cast<int>(region.holes.end() - closed);
        region.holes.erase(closed, region.holes.end());
    }
    tidy.joined = tidy.closed;
    std::vector<Region2> slivers;
    for (Region2& region : regions)
        (holds_width({region}, width) ? tidy.regions : slivers).push_back(std::move(region));
    for (Region2& sliver : slivers) {
        // Joined where the gap to a sound part closes as a slit narrower than a sliver.
        for (Region2& sound : tidy.regions) {
            const Paths bridged =
                grown(grown(paths_of({sound, sliver}), 0.5 * width), -0.5 * width);
            std::vector<Region2> joined = regions_of_paths(bridged);
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
