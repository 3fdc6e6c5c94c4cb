#include <algorithm>
#include <cmath>
#include <polyclipping/clipper.hpp>

#include "core/base/tolerances.h"
#include "core/plies/sounded_levels.h"

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
    ClipperLib::ClipperOffset offset(2.0, tolerance::net_line_chord / tolerance::clipper_grid);
    offset.AddPaths(paths, ClipperLib::jtRound, ClipperLib::etClosedPolygon);
    Paths out;
    offset.Execute(out, by / tolerance::clipper_grid);
    return out;
}

bool holds_width(const std::vector<Region2>& regions, double width) {
    return !grown(paths_of(regions), -0.5 * width).empty();
}

std::vector<Region2> regions_of_paths(const Paths& paths) {
    std::vector<Loop2> loops;
    for (const Path& path : paths) {
        loops.emplace_back();
        for (const auto& p : path)
            loops.back().emplace_back(static_cast<double>(p.X) * tolerance::clipper_grid,
                                      static_cast<double>(p.Y) * tolerance::clipper_grid);
    }
    return dish::regions_of(std::move(loops));
}

}  // namespace

TidyRegions without_slivers(std::vector<Region2> regions, double width) {
    TidyRegions tidy;
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
