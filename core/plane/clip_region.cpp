#include "core/plane/clip_region.h"

#include <algorithm>
#include <cmath>
#include <polyclipping/clipper.hpp>

#include "core/base/tolerances.h"
#include "core/plane/tolerances.h"

namespace tearline::plane {
namespace {

/// Whether the curve turns back on itself at a point, with next to nothing between.
bool is_spike(const Vec2& before, const Vec2& tip, const Vec2& after) {
    const Vec2 u = before - tip, v = after - tip;
    const double shorter = std::min(u.norm(), v.norm()), longer = std::max(u.norm(), v.norm());
    if (!(shorter > 0.0)) return true;
    return u.dot(v) > 0.0 && std::abs(cross2(u, v)) < tolerance::spike_width * longer;
}

Loop2 without_spikes(const Loop2& loop) {
    Loop2 out;
    for (const Vec2& p : loop) {
        out.push_back(p);
        while (out.size() >= 3 && is_spike(out[out.size() - 3], out[out.size() - 2], out.back()))
            out.erase(out.end() - 2);
    }
    // And across the seam.
    std::size_t first = 0;
    while (out.size() - first >= 3) {
        if (is_spike(out[out.size() - 2], out.back(), out[first]))
            out.pop_back();
        else if (is_spike(out.back(), out[first], out[first + 1]))
            ++first;
        else
            break;
    }
    return {out.begin() + static_cast<std::ptrdiff_t>(first), out.end()};
}

/// To Clipper's integers and back, about an origin that keeps them small.
struct Grid {
    Vec2 origin;

    [[nodiscard]] ClipperLib::Path path(const Loop2& loop) const {
        ClipperLib::Path out;
        out.reserve(loop.size());
        for (const Vec2& p : loop) {
            const Vec2 q = (p - origin) / tolerance::clipper_grid;
            out.emplace_back(std::llround(q.x()), std::llround(q.y()));
        }
        return out;
    }
    /// Spikes that crossing fronts leave are taken out on the way.
    [[nodiscard]] Loop2 loop(const ClipperLib::Path& path) const {
        Loop2 out;
        out.reserve(path.size());
        for (const auto& p : path)
            out.push_back(origin + tolerance::clipper_grid *
                                       Vec2(static_cast<double>(p.X), static_cast<double>(p.Y)));
        return without_spikes(out);
    }
};

void collect(const ClipperLib::PolyNode& parent, const Grid& grid, std::vector<Region2>& out) {
    for (const ClipperLib::PolyNode* node : parent.Childs) {
        Region2 region{grid.loop(node->Contour), {}};
        if (region.outer.size() < 3) continue;
        const double signed_outer = signed_area(region.outer);
        if (signed_outer < 0.0) std::reverse(region.outer.begin(), region.outer.end());
        const bool wide_enough = std::abs(signed_outer) >= tolerance::least_island;
        for (const ClipperLib::PolyNode* hole : node->Childs) {
            Loop2 loop = grid.loop(hole->Contour);
            const double a = signed_area(loop);
            if (a > 0.0) std::reverse(loop.begin(), loop.end());
            if (std::abs(a) >= tolerance::least_island) region.holes.push_back(std::move(loop));
            collect(*hole, grid, out);
        }
        if (wide_enough) out.push_back(std::move(region));
    }
}

}  // namespace

std::vector<Region2> united_inside(const std::vector<Loop2>& loops, const Region2& domain) {
    const Grid grid{domain.outer.front()};
    ClipperLib::Clipper clipper;
    for (const Loop2& loop : loops) clipper.AddPath(grid.path(loop), ClipperLib::ptSubject, true);
    clipper.AddPath(grid.path(domain.outer), ClipperLib::ptClip, true);
    for (const Loop2& hole : domain.holes)
        clipper.AddPath(grid.path(hole), ClipperLib::ptClip, true);
    ClipperLib::PolyTree tree;
    clipper.Execute(ClipperLib::ctIntersection, tree, ClipperLib::pftPositive,
                    ClipperLib::pftPositive);
    std::vector<Region2> regions;
    collect(tree, grid, regions);
    std::stable_sort(regions.begin(), regions.end(), [](const Region2& a, const Region2& b) {
        return std::abs(signed_area(a.outer)) > std::abs(signed_area(b.outer));
    });
    return regions;
}

Loop2 thinned(const Loop2& loop, double chord, double longest) {
    const std::size_t n = loop.size();
    if (n < 4) return loop;
    Loop2 out{loop.front()};
    std::size_t last = 0;
    const auto stands_for = [&](std::size_t from, std::size_t to) {
        const Vec2 u = loop[to % n] - loop[from];
        const double length = u.norm();
        if (!(length <= longest) || !(length > 0.0)) return false;
        for (std::size_t k = from + 1; k < to; ++k) {
            const Vec2 w = loop[k] - loop[from];
            const double along = w.dot(u) / length;
            if (std::abs(cross2(u, w)) > chord * length || along < 0.0 || along > length)
                return false;
        }
        return true;
    };
    for (std::size_t i = 1; i < n; ++i) {
        if (stands_for(last, i + 1)) continue;
        out.push_back(loop[i]);
        last = i;
    }
    return out.size() >= 3 ? out : loop;
}

}  // namespace tearline::plane
