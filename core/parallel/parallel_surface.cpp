#include "core/parallel/parallel_surface.h"

#include <cmath>

#include "core/parallel/lay_draft.h"

namespace tearline::parallel {
namespace {

/// What the crease line did to the surface, at the place where it turns most.
CreaseMet crease_met(const BaseMesh& base, const CreaseLine& line, const DepthAtChart& depth,
                     const std::vector<CreaseWay>& ways) {
    std::size_t most = 0;
    for (std::size_t i = 0; i < line.vertices.size(); ++i)
        if (std::abs(line.vertices[i].turn) > std::abs(line.vertices[most].turn)) most = i;
    const CreaseVertex& v = line.vertices[most];
    CreaseMet met;
    met.at = base.mesh.position[v.vertex.index()];
    met.turn = v.turn;
    met.depth = depth(base.chart[v.vertex.index()]);
    met.length = line.vertices.back().along;
    if (ways[most] == CreaseWay::trimmed) met.trimmed = 2.0 * met.depth * std::tan(0.5 * v.turn);
    if (ways[most] == CreaseWay::opened) met.opened = std::abs(met.depth * v.turn);
    return met;
}

Loop2 outline_of(const TrimStrip& strip) {
    Loop2 loop;
    for (const StripNode& node : strip.nodes) loop.push_back(node.ridge.right.chart);
    for (auto node = strip.nodes.rbegin(); node != strip.nodes.rend(); ++node)
        loop.push_back(node->ridge.left.chart);
    return loop;
}

}  // namespace

Result<ParallelSurface> parallel_surface(const BaseMesh& base, const DepthAtChart& depth) {
    const CreaseSheets sheets = take_apart(base.mesh, base.crease);
    PerId<StripId, TrimStrip> strips;
    std::vector<std::vector<CreaseWay>> ways;
    std::vector<CreaseMet> met;
    std::vector<Loop2> trimmed;
    for (const CreaseLine& line : sheets.lines)
        ways.push_back(crease_ways(line, base.chart, depth));
    const PerId<CornerId, TrimCorner> corners = trim_corners(base, sheets, ways, depth);
    for (std::size_t l = 0; l < sheets.lines.size(); ++l) {
        auto more = trim_strips(base, sheets, l, ways[l], depth, corners);
        if (!more) return tl::unexpected(more.error());
        for (TrimStrip& strip : *more) {
            trimmed.push_back(outline_of(strip));
            strips.add(std::move(strip));
        }
        met.push_back(crease_met(base, sheets.lines[l], depth, ways[l]));
    }
    const CutSheets cut = cut_strips(base, sheets, strips, ways, corners);
    const LayParts parts{base, depth, sheets, strips, corners, ways, cut};
    LayDraft draft = weld_sheets(parts);
    open_arcs(parts, draft);
    auto surface = finished(std::move(draft), depth);
    if (!surface) return surface;
    surface->creases = std::move(met);
    surface->trimmed = std::move(trimmed);
    return surface;
}

}  // namespace tearline::parallel
