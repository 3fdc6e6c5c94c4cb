#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "core/surface/crease_sheets.h"
#include "core/surface/trim_strip.h"

namespace tearline::surface {

/// Where on the edge of a strip a vertex lies.
struct OnStrip {
    std::int32_t strip = -1;
    Side side = Side::left;
    double along = 0.0;  ///< [mm]
    bool fixed = false;  ///< on the mesh's own rim, or a tip: it cannot slide along the edge
};

/// The sheets without what lies inside the strips; ridge vertices come in pairs.
struct CutSheets {
    std::vector<std::array<std::int32_t, 3>> triangle;  ///< of copies
    std::vector<std::array<Vec3, 3>> corner_normal;     ///< as the mesh's; stale where `on` is set
    std::vector<Vec2> chart;                            ///< [mm] per copy
    std::vector<std::optional<OnStrip>> on;             ///< per copy: on the edge of a strip
    std::vector<std::array<std::int32_t, 2>> pairs;  ///< left copy, right copy of one ridge point
};

/// Cuts the strips out of the sheets and pairs the vertices of both edges of each strip, so that
/// the ridges can be welded.
///
/// @param ways  per line, as crease_ways() gave them
[[nodiscard]] CutSheets cut_strips(const BaseMesh& base, const CreaseSheets& sheets,
                                   const std::vector<TrimStrip>& strips,
                                   const std::vector<std::vector<CreaseWay>>& ways);

/// Pairs the two edges of every strip, adding vertices where one edge lacks the other's.
void pair_edges(CutSheets& cut, std::size_t strips);

}  // namespace tearline::surface
