#include <cmath>

#include "core/parallel/tolerances.h"
#include "core/parallel/trim_strip.h"

namespace tearline::parallel {

std::vector<CreaseWay> crease_ways(const CreaseLine& line, const std::vector<Vec2>& chart,
                                   const DepthAtChart& depth) {
    const std::size_t count = line.vertices.size();
    std::vector<CreaseWay> ways(count, CreaseWay::mitre);
    std::vector<double> depths(count);
    for (std::size_t i = 0; i < count; ++i) {
        const CreaseVertex& v = line.vertices[i];
        const double d = depth(chart[v.vertex.index()]);
        depths[i] = std::abs(d);
        const bool end = i == 0 || i + 1 == count;
        const bool on_rim = i == 0 ? line.starts_on_rim : line.ends_on_rim;
        if (end && !on_rim) continue;  // others meet it there, or it ends inside a sheet
        const double mitre = 2.0 * d * std::tan(0.5 * v.turn);
        const double arc = std::abs(d * v.turn);
        // At the rim a mitre would bend the outline: an arc keeps its points where they belong.
        const bool needs_arc =
            end ? arc > tolerance::least_trim : -mitre - arc > tolerance::mitre_error;
        if (mitre > tolerance::least_trim)
            ways[i] = CreaseWay::trimmed;
        else if (mitre < 0.0 && needs_arc)
            ways[i] = CreaseWay::opened;
    }
    for (std::size_t i = 0; i + 1 < count; ++i) {
        const bool both = ways[i] != CreaseWay::mitre && ways[i + 1] != CreaseWay::mitre;
        if (both && ways[i] != ways[i + 1])
            ways[depths[i] < depths[i + 1] ? i : i + 1] = CreaseWay::mitre;
    }
    return ways;
}

}  // namespace tearline::parallel
