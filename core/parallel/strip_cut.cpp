#include "core/parallel/strip_cut.h"

#include <algorithm>
#include <limits>
#include <utility>
#include <vector>

namespace tearline::parallel {

StripCut::StripCut(const BaseMesh& base_mesh, const CreaseSheets& all_sheets,
                   const PerId<StripId, TrimStrip>& all_strips,
                   const PerId<CornerId, TrimCorner>& all_corners)
    : base(base_mesh),
      sheets(all_sheets),
      strips(all_strips),
      corners(all_corners),
      corner_ends(sheets, strips, corners) {
    const std::size_t copies = sheets.origin.size();
    std::vector<Vec2> chart;
    chart.reserve(copies);
    for (const VertexId v : sheets.origin) chart.push_back(base.chart[v.index()]);
    cut.chart = PerId<CopyId, Vec2>(std::move(chart));
    cut.on.resize(copies);
    cut.corner.resize(copies);
    in.resize(copies);
    rim.resize(copies, false);
    const auto each_edge = [&](auto&& visit) {
        for (const TriangleId t : sheets.triangle.ids())
            for (int i = 0; i < 3; ++i)
                visit(t, i, sheets.triangle[t][i], sheets.triangle[t][(i + 1) % 3]);
    };
    around = {copies, [&](auto&& tell) {
                  each_edge([&](TriangleId t, int, CopyId a, CopyId) { tell(a, t); });
              }};
    links = {copies, [&](auto&& tell) {
                 each_edge([&](TriangleId, int, CopyId a, CopyId b) {
                     tell(a, b);
                     tell(b, a);
                 });
             }};
    each_edge([&](TriangleId t, int i, CopyId a, CopyId b) {
        if (sheets.rim[t][i]) rim[a] = rim[b] = true;
    });
}

double StripCut::shortest_link(CopyId copy) const {
    double shortest = std::numeric_limits<double>::infinity();
    for (const CopyId w : links[copy])
        shortest = std::min(shortest, (cut.chart[w] - cut.chart[copy]).norm());
    return shortest;
}

StripCut::Leaving StripCut::leaving(CopyId from, CopyId to) const {
    Leaving best{*in[from], -1.0, 0.0};
    for (const StripSide& mark : corner_ends.with_mates(*in[from])) {
        const auto found = strips[mark.strip].cross(mark.side, cut.chart[from], cut.chart[to]);
        if (found.share > best.share) best = {mark, found.share, found.along};
    }
    if (best.share >= 0.0) return best;
    // On the edge up to rounding: the node nearest to the vertex.
    const TrimStrip& strip = strips[best.mark.strip];
    double nearest = std::numeric_limits<double>::infinity();
    for (const StripNode& node : strip.nodes) {
        const double d =
            (strip.edge_point(best.mark.side, node.along) - cut.chart[from]).squaredNorm();
        if (d < nearest) {
            nearest = d;
            best.share = 0.0;
            best.along = node.along;
        }
    }
    return best;
}

void StripCut::put_on_corner(CornerEnd& corner, CopyId copy) {
    cut.corner[copy] = corner.on;
    cut.on[copy].reset();
    cut.chart[copy] = corner.foot;
    in[copy].reset();
    corner.made = copy;
}

}  // namespace tearline::parallel
