#include "core/parallel/corner_ends.h"

namespace tearline::parallel {
namespace {

/// The edges of the strips that end at a corner on the sheet of a copy.
std::vector<OnStrip> edges_at(CornerId corner, CopyId copy, const CreaseSheets& sheets,
                              const PerId<StripId, TrimStrip>& strips) {
    std::vector<OnStrip> edges;
    for (const StripId s : strips.ids())
        for (const bool at_start : {true, false}) {
            const auto& end = at_start ? strips[s].start : strips[s].end;
            if (end.corner != corner) continue;
            const auto& line = sheets.lines[strips[s].line].vertices;
            const CreaseVertex& v = at_start ? line.front() : line.back();
            if (v.left == copy) edges.push_back({s, Side::left, end.along, true});
            if (v.right == copy) edges.push_back({s, Side::right, end.along, true});
        }
    return edges;
}

}  // namespace

bool CornerEnd::ends(const StripSide& edge) const {
    for (const OnStrip& end : on.ends)
        if (end.strip == edge.strip && end.side == edge.side) return true;
    return false;
}

CornerEnds::CornerEnds(const CreaseSheets& sheets, const PerId<StripId, TrimStrip>& strips,
                       const PerId<CornerId, TrimCorner>& corners) {
    for (const CornerId c : corners.ids())
        for (std::size_t f = 0; f < corners[c].feet.size(); ++f) {
            const CornerFoot& foot = corners[c].feet[f];
            const auto edges = edges_at(c, foot.copy, sheets, strips);
            if (edges.size() != 2) continue;
            ends_.push_back({foot.copy, {c, f, {edges[0], edges[1]}}, foot.foot.chart, {}});
        }
}

std::vector<StripSide> CornerEnds::with_mates(const StripSide& edge) const {
    std::vector<StripSide> edges{edge};
    for (const CornerEnd& corner : ends_) {
        if (!corner.ends(edge)) continue;
        for (const OnStrip& end : corner.on.ends)
            if (StripSide{end.strip, end.side} != edge) edges.push_back({end.strip, end.side});
    }
    return edges;
}

CornerEnd* CornerEnds::between(const StripSide& a, const StripSide& b) {
    for (CornerEnd& corner : ends_)
        if (corner.ends(a) && corner.ends(b)) return &corner;
    return nullptr;
}

CornerEnd* CornerEnds::near(const StripSide& edge, const Vec2& chart, double reach) {
    for (CornerEnd& corner : ends_)
        if (corner.ends(edge) && (corner.foot - chart).norm() <= reach) return &corner;
    return nullptr;
}

}  // namespace tearline::parallel
