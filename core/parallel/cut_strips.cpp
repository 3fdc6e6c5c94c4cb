#include "core/parallel/cut_strips.h"

#include "core/parallel/strip_cut.h"

namespace tearline::parallel {

CopyId CutSheets::add(const Vec2& point, std::optional<OnStrip> edge, std::optional<OnCorner> end) {
    on.add(edge);
    corner.add(end);
    return chart.add(point);
}

std::optional<OnStrip> CutSheets::place_on(CopyId copy, StripId strip, Side side) const {
    const auto here = [&](const OnStrip& place) {
        return place.strip == strip && place.side == side;
    };
    if (on[copy] && here(*on[copy])) return on[copy];
    if (corner[copy])
        for (const OnStrip& end : corner[copy]->ends)
            if (here(end)) return end;
    return std::nullopt;
}

CutSheets cut_strips(const BaseMesh& base, const CreaseSheets& sheets,
                     const PerId<StripId, TrimStrip>& strips,
                     const std::vector<std::vector<CreaseWay>>& ways,
                     const PerId<CornerId, TrimCorner>& corners) {
    StripCut cutting(base, sheets, strips, corners);
    mark_inside(cutting, ways);
    snap_to_edges(cutting, ways);
    clip_triangles(cutting);
    CutSheets cut = std::move(cutting.cut);
    pair_edges(cut, strips.size());
    return cut;
}

}  // namespace tearline::parallel
