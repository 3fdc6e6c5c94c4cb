#include "core/plane/boolean.h"

#include <cmath>
#include <polyclipping/clipper.hpp>
#include <stdexcept>

#include "core/base/allocation_watch.h"
#include "core/plane/tolerances.h"

namespace tearline::plane {
namespace {

using ClipperLib::Paths;
using ClipperLib::PolyTree;

Paths to_paths(const std::vector<Loop2>& loops) {
    Paths paths(loops.size());
    for (std::size_t i = 0; i < loops.size(); ++i) {
        paths[i].reserve(loops[i].size());
        for (const Vec2& p : loops[i])
            paths[i].emplace_back(std::llround(p.x() / tolerance::clipper_grid),
                                  std::llround(p.y() / tolerance::clipper_grid));
    }
    return paths;
}

Loop2 to_loop(const ClipperLib::Path& path) {
    Loop2 loop;
    loop.reserve(path.size());
    for (const auto& p : path)
        loop.emplace_back(static_cast<double>(p.X) * tolerance::clipper_grid,
                          static_cast<double>(p.Y) * tolerance::clipper_grid);
    return loop;
}

std::vector<Loop2> read(const Paths& paths) {
    std::vector<Loop2> loops;
    loops.reserve(paths.size());
    for (const auto& path : paths) loops.push_back(to_loop(path));
    return loops;
}

std::vector<Region2> read(const PolyTree& tree) {
    std::vector<Region2> regions;
    for (const auto* node = tree.GetFirst(); node != nullptr; node = node->GetNext()) {
        if (node->IsHole()) continue;
        regions.push_back({to_loop(node->Contour), {}});
        for (const auto* hole : node->Childs)
            regions.back().holes.push_back(to_loop(hole->Contour));
    }
    return regions;
}

template <class Answer>
Answer combine(Boolean operation, const std::vector<Loop2>& loops, const std::vector<Loop2>& other,
               Winding winding) {
    const AllocationWatch memory;  // which Clipper lacks without a word
    ClipperLib::Clipper clipper;
    clipper.AddPaths(to_paths(loops), ClipperLib::ptSubject, true);
    clipper.AddPaths(to_paths(other), ClipperLib::ptClip, true);
    const auto type = operation == Boolean::unite       ? ClipperLib::ctUnion
                      : operation == Boolean::intersect ? ClipperLib::ctIntersection
                                                        : ClipperLib::ctDifference;
    const auto fill =
        winding == Winding::positive ? ClipperLib::pftPositive : ClipperLib::pftNonZero;
    Answer answer;
    const bool done = clipper.Execute(type, answer, fill, fill);
    memory.check();
    if (!done) throw std::runtime_error("Clipper could not combine two outlines");
    return answer;
}

template <class Answer>
Answer offset_by(const std::vector<Loop2>& loops, double distance, double chord) {
    constexpr double miter = 2.0;  // Clipper's own; round corners do not use it
    const AllocationWatch memory;
    ClipperLib::ClipperOffset offset(miter, chord / tolerance::clipper_grid);
    offset.AddPaths(to_paths(loops), ClipperLib::jtRound, ClipperLib::etClosedPolygon);
    Answer answer;
    offset.Execute(answer, distance / tolerance::clipper_grid);
    memory.check();
    return answer;
}

}  // namespace

std::vector<Loop2> combined(Boolean operation, const std::vector<Loop2>& loops,
                            const std::vector<Loop2>& other) {
    return read(combine<Paths>(operation, loops, other, Winding::any));
}

std::vector<Region2> combined_regions(Boolean operation, const std::vector<Loop2>& loops,
                                      const std::vector<Loop2>& other, Winding winding) {
    return read(combine<PolyTree>(operation, loops, other, winding));
}

std::vector<Loop2> offset(const std::vector<Loop2>& loops, double distance, double chord) {
    return read(offset_by<Paths>(loops, distance, chord));
}

std::vector<Region2> offset_regions(const std::vector<Loop2>& loops, double distance,
                                    double chord) {
    return read(offset_by<PolyTree>(loops, distance, chord));
}

std::vector<Loop2> loops_of(const std::vector<Region2>& regions) {
    std::vector<Loop2> loops;
    for (const Region2& region : regions) {
        loops.push_back(region.outer);
        loops.insert(loops.end(), region.holes.begin(), region.holes.end());
    }
    return loops;
}

}  // namespace tearline::plane
