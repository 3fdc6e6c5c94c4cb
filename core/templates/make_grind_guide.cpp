#include "core/templates/make_grind_guide.h"

#include "core/base/length_text.h"
#include "core/pieces/chart_map.h"
#include "core/templates/piece_outline.h"

namespace tearline::templates {

namespace {

std::string ring_text(const RingRequest& ring, Units units) {
    constexpr double shown = 0.05;  // [mm] less is 0.0
    const std::string depth = ring.depth_mm < shown ? "0" : length_text(ring.depth_mm, 1, units);
    if (ring.cover) return "COVER PLY " + std::to_string(ring.ply) + ": NO GRINDING";
    if (ring.ply == 0) return "DAMAGE: GRIND TO " + depth;
    if (ring.ply == -1) return "SCARF EDGE: DEPTH 0";
    if (ring.ply == -2) return "GEL COAT OFF TO HERE";
    if (ring.ply == -3) return "TOO STEEP: GRIND UP TO " + depth + " MORE IN HERE";
    return "PLY " + std::to_string(ring.ply) + "  DEPTH " + depth;
}

}  // namespace

GrindGuide make_grind_guide(const pieces::Piece& footprint, const damage::FlatFrame& frame,
                            const Directions& directions, const std::vector<RingRequest>& rings,
                            Units units) {
    GrindGuide guide;
    guide.footprint = net_region(footprint);
    const pieces::ChartMap map(footprint);
    bool gel_coat_line = false;
    for (const RingRequest& request : rings) {
        GrindGuide::Ring ring{{}, ring_text(request, units), request.depth_mm, request.ply};
        for (const Loop2& loop : request.chart)
            for (const auto& run : map.runs(loop)) ring.loops.push_back(run.points);
        gel_coat_line = gel_coat_line || request.ply == -2;
        if (!ring.loops.empty()) guide.rings.push_back(std::move(ring));
    }
    if (!gel_coat_line) {
        // Glass sticks to glass only: the gel coat comes off wherever the repair reaches.
        GrindGuide::Ring ring{{guide.footprint.outer}, ring_text({{}, 0.0, -2}, units), 0.0, -2};
        for (const Loop2& hole : guide.footprint.holes) ring.loops.push_back(hole);
        guide.rings.push_back(std::move(ring));
    }
    guide.marks = datum_marks(footprint, frame, directions, 8.0);
    return guide;
}

}  // namespace tearline::templates
