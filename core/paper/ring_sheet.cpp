#include "core/paper/ring_sheet.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace tearline::paper {

namespace {

double to_segment(const Vec2& point, const Vec2& a, const Vec2& b) {
    const Vec2 along = b - a;
    const double length2 = along.squaredNorm();
    const double t = length2 > 0.0 ? std::clamp((point - a).dot(along) / length2, 0.0, 1.0) : 0.0;
    return (point - a - t * along).norm();
}

double to_loops(const Vec2& point, const std::vector<Loop2>& loops) {
    double nearest = std::numeric_limits<double>::infinity();
    for (const Loop2& loop : loops)
        for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++)
            nearest = std::min(nearest, to_segment(point, loop[j], loop[i]));
    return nearest;
}

std::vector<Loop2> loops_of(const Region2& region) {
    std::vector<Loop2> loops{region.outer};
    loops.insert(loops.end(), region.holes.begin(), region.holes.end());
    return loops;
}

}  // namespace

double distance_between(const std::vector<Loop2>& a, const std::vector<Loop2>& b) {
    double farthest = 0.0;
    for (const Loop2& loop : a)
        for (const Vec2& point : loop) farthest = std::max(farthest, to_loops(point, b));
    for (const Loop2& loop : b)
        for (const Vec2& point : loop) farthest = std::max(farthest, to_loops(point, a));
    return farthest;
}

std::optional<RingSheet> ring_sheet(const PrintPlan& plan) {
    std::map<int, const templates::GrindGuide::Ring*> rings;
    for (const auto& ring : plan.guide.rings)
        if (ring.ply > 0) rings[ring.ply] = &ring;
    std::map<int, int> pieces_of_ply;
    for (const PrintPiece& piece : plan.pieces) ++pieces_of_ply[piece.ply];
    RingSheet sheet;
    for (std::size_t i = 0; i < plan.pieces.size(); ++i) {
        const PrintPiece& piece = plan.pieces[i];
        const auto ring = rings.find(piece.ply);
        if (piece.kind != "mat" || ring == rings.end() || pieces_of_ply[piece.ply] > 1 ||
            !piece.outline.relief_cuts.empty())
            continue;
        const double off = distance_between(loops_of(piece.outline.net), ring->second->loops);
        if (!(off <= rings_agree)) continue;
        sheet.farthest_mm = std::max(sheet.farthest_mm, off);
        sheet.pieces.push_back(i);
    }
    if (sheet.pieces.size() < 2) return std::nullopt;
    return sheet;
}

}  // namespace tearline::paper
