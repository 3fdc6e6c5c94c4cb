#include "core/plane/offset_region.h"

#include <cmath>
#include <polyclipping/clipper.hpp>
#include <utility>

#include "core/base/tolerances.h"
#include "core/plane/tolerances.h"

namespace tearline::plane {

namespace {

using ClipperLib::Path;
using ClipperLib::Paths;

/// Clipper counts in whole steps of tolerance::clipper_step.
ClipperLib::cInt to_steps(double mm) {
    return static_cast<ClipperLib::cInt>(std::llround(mm / tolerance::clipper_step));
}

Path to_path(const Loop2& loop) {
    Path path;
    path.reserve(loop.size());
    for (const Vec2& p : loop) path.emplace_back(to_steps(p.x()), to_steps(p.y()));
    return path;
}

Loop2 to_loop(const Path& path) {
    Loop2 loop;
    loop.reserve(path.size());
    for (const auto& p : path)
        loop.emplace_back(double(p.X) * tolerance::clipper_step,
                          double(p.Y) * tolerance::clipper_step);
    return thinned(loop, tolerance::outline_thinning);
}

void add_paths(Paths& paths, const Region2& region) {
    paths.push_back(to_path(region.outer));
    for (const Loop2& hole : region.holes) paths.push_back(to_path(hole));
}

/// Outer loops with their holes; Clipper turns outers counter-clockwise and holes clockwise.
std::vector<Region2> to_regions(const ClipperLib::PolyTree& tree) {
    std::vector<Region2> regions;
    for (const ClipperLib::PolyNode* node = tree.GetFirst(); node != nullptr;
         node = node->GetNext()) {
        if (node->IsHole()) continue;
        Region2 region;
        region.outer = to_loop(node->Contour);
        if (region.outer.size() < 3) continue;
        for (const ClipperLib::PolyNode* hole : node->Childs) {
            Loop2 loop = to_loop(hole->Contour);
            if (loop.size() >= 3) region.holes.push_back(std::move(loop));
        }
        regions.push_back(std::move(region));
    }
    return regions;
}

double distance_to_segment(const Vec2& p, const Vec2& a, const Vec2& b) {
    const Vec2 along = b - a;
    const double square = along.squaredNorm();
    if (!(square > 0.0)) return (p - a).norm();
    const double t = std::clamp((p - a).dot(along) / square, 0.0, 1.0);
    return (p - a - t * along).norm();
}

/// Keeps the farthest point of each stretch that bulges more than the tolerance (Douglas-Peucker).
void keep_corners(const Loop2& loop, std::size_t from, std::size_t to, double tolerance,
                  std::vector<bool>& keep) {
    std::vector<std::pair<std::size_t, std::size_t>> stretches{{from, to}};
    while (!stretches.empty()) {
        const auto [first, last] = stretches.back();
        stretches.pop_back();
        double widest = tolerance;
        std::size_t at = first;
        for (std::size_t i = first + 1; i < last; ++i) {
            const double d = distance_to_segment(loop[i], loop[first], loop[last % loop.size()]);
            if (d > widest) widest = d, at = i;
        }
        if (at == first) continue;
        keep[at] = true;
        stretches.emplace_back(first, at);
        stretches.emplace_back(at, last);
    }
}

}  // namespace

std::vector<Region2> offset_region(const Region2& region, double distance) {
    Paths paths;
    add_paths(paths, region);
    ClipperLib::ClipperOffset offset;
    offset.ArcTolerance = tolerance::tear_rounding / tolerance::clipper_step;
    offset.AddPaths(paths, ClipperLib::jtRound, ClipperLib::etClosedPolygon);
    ClipperLib::PolyTree tree;
    offset.Execute(tree, distance / tolerance::clipper_step);
    return to_regions(tree);
}

std::vector<Region2> common_region(const std::vector<Region2>& a, const std::vector<Region2>& b) {
    ClipperLib::Clipper clipper;
    Paths first, second;
    for (const Region2& region : a) add_paths(first, region);
    for (const Region2& region : b) add_paths(second, region);
    clipper.AddPaths(first, ClipperLib::ptSubject, true);
    clipper.AddPaths(second, ClipperLib::ptClip, true);
    ClipperLib::PolyTree tree;
    clipper.Execute(ClipperLib::ctIntersection, tree, ClipperLib::pftNonZero,
                    ClipperLib::pftNonZero);
    return to_regions(tree);
}

std::vector<Region2> united_regions(const std::vector<Region2>& regions) {
    ClipperLib::Clipper clipper;
    Paths paths;
    for (const Region2& region : regions) add_paths(paths, region);
    clipper.AddPaths(paths, ClipperLib::ptSubject, true);
    ClipperLib::PolyTree tree;
    clipper.Execute(ClipperLib::ctUnion, tree, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    return to_regions(tree);
}

Loop2 thinned(const Loop2& loop, double tolerance) {
    if (loop.size() < 4) return loop;
    // Two points far apart are kept for certain: a place of the greatest extent, and the one
    // opposite.
    std::size_t start = 0;
    for (std::size_t i = 1; i < loop.size(); ++i)
        if (loop[i].x() < loop[start].x()) start = i;
    Loop2 turned(loop.begin() + static_cast<std::ptrdiff_t>(start), loop.end());
    turned.insert(turned.end(), loop.begin(), loop.begin() + static_cast<std::ptrdiff_t>(start));
    std::size_t opposite = 0;
    for (std::size_t i = 1; i < turned.size(); ++i)
        if ((turned[i] - turned[0]).norm() > (turned[opposite] - turned[0]).norm()) opposite = i;
    if (opposite == 0) return {loop.front()};
    std::vector<bool> keep(turned.size(), false);
    keep[0] = keep[opposite] = true;
    keep_corners(turned, 0, opposite, tolerance, keep);
    keep_corners(turned, opposite, turned.size(), tolerance, keep);
    Loop2 out;
    for (std::size_t i = 0; i < turned.size(); ++i)
        if (keep[i]) out.push_back(turned[i]);
    return out;
}

}  // namespace tearline::plane
