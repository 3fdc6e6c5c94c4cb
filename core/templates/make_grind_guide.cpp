#include "core/templates/make_grind_guide.h"

#include <algorithm>

#include "core/base/length_text.h"
#include "core/pieces/chart_map.h"
#include "core/plane/nearest_on_line.h"
#include "core/templates/piece_outline.h"
#include "core/templates/tolerances.h"

namespace tearline::templates {
namespace {

std::string ring_text(const RingRequest& ring, Units units) {
    constexpr double shown = 0.05;  // [mm] less is 0.0
    // In thousandths of an inch, as the sheet's rule says of depths.
    const std::string depth = ring.depth_mm < shown ? "0" : thickness_text(ring.depth_mm, 1, units);
    if (ring.cover) return "COVER PLY " + std::to_string(ring.ply) + ": NO GRINDING";
    if (ring.ply == 0) return "DAMAGE: GRIND TO " + depth;
    if (ring.ply == -1) return "SCARF EDGE: DEPTH 0";
    if (ring.ply == -2) return "GEL COAT OFF TO HERE";
    if (ring.ply == -3) return "TOO STEEP: GRIND UP TO " + depth + " MORE IN HERE";
    return "PLY " + std::to_string(ring.ply) + "  DEPTH " + depth;
}

/// A ring that leaves the hull runs along its end, where rounding alone says which points of it are
/// on the footprint: such a bit is no line of its own.
bool only_the_rim(const pieces::ChartMap::Run& run, const Region2& footprint) {
    return !run.closed && std::all_of(run.points.begin(), run.points.end(), [&](const Vec2& p) {
        return plane::distance_to_edge(footprint, p) < tolerance::on_hull_end;
    });
}

}  // namespace

GrindGuide make_grind_guide(const pieces::Piece& footprint, const damage::FlatFrame& frame,
                            const Directions& directions, const std::vector<RingRequest>& rings,
                            Units units) {
    GrindGuide guide;
    guide.footprint = net_region(footprint);
    const pieces::ChartMap map(footprint);
    std::vector<Loop2> rim{guide.footprint.outer};
    rim.insert(rim.end(), guide.footprint.holes.begin(), guide.footprint.holes.end());
    for (const RingRequest& request : rings) {
        GrindGuide::Ring ring{{}, ring_text(request, units), request.depth_mm, request.ply};
        if (request.rim)
            ring.loops = rim;
        else
            for (const Loop2& loop : request.chart)
                for (const auto& run : map.runs(loop))
                    if (!only_the_rim(run, guide.footprint)) ring.loops.push_back(run.points);
        if (!ring.loops.empty()) guide.rings.push_back(std::move(ring));
    }
    // Glass sticks to glass only: the gel coat comes off wherever the repair reaches.
    guide.rings.push_back({rim, ring_text({{}, 0.0, -2}, units), 0.0, -2});
    guide.marks = datum_marks(footprint, frame, directions, 8.0);
    return guide;
}

}  // namespace tearline::templates
