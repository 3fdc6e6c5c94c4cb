#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "core/parallel/crease_sheets.h"
#include "core/parallel/trim_corner.h"
#include "core/parallel/trim_strip.h"

namespace tearline::parallel {

/// Where on the edge of a strip a vertex lies.
struct OnStrip {
    std::int32_t strip = -1;
    Side side = Side::left;
    double along = 0.0;  ///< [mm]
    bool fixed = false;  ///< on the mesh's own rim, or a tip: it cannot slide along the edge
};

/// What one sheet has of a corner: there the edges of two strips end.
struct OnCorner {
    std::int32_t corner = -1;
    std::int32_t foot = -1;       ///< of the corner's feet
    std::array<OnStrip, 2> ends;  ///< where the corner lies along each of the two edges
};

/// The sheets without what lies inside the strips; ridge vertices come in pairs.
struct CutSheets {
    std::vector<std::array<std::int32_t, 3>> triangle;  ///< of copies
    std::vector<std::array<Vec3, 3>> corner_normal;     ///< as the mesh's; stale where `on` is set
    std::vector<Vec2> chart;                            ///< [mm] per copy
    std::vector<std::optional<OnStrip>> on;             ///< per copy: on the edge of a strip
    std::vector<std::optional<OnCorner>> corner;        ///< per copy: on a corner, and not `on`
    std::vector<std::array<std::int32_t, 2>> pairs;  ///< left copy, right copy of one ridge point

    /// Where along an edge of a strip a copy lies, if it does.
    [[nodiscard]] std::optional<OnStrip> place_on(std::int32_t copy, std::int32_t strip,
                                                  Side side) const;
};

/// Cuts the strips out of the sheets and pairs the vertices of both edges of each strip, so that
/// the ridges can be welded.
///
/// @param ways  per line, as crease_ways() gave them
[[nodiscard]] CutSheets cut_strips(const BaseMesh& base, const CreaseSheets& sheets,
                                   const std::vector<TrimStrip>& strips,
                                   const std::vector<std::vector<CreaseWay>>& ways,
                                   const std::vector<TrimCorner>& corners);

/// Pairs the two edges of every strip, adding vertices where one edge lacks the other's.
void pair_edges(CutSheets& cut, std::size_t strips);

}  // namespace tearline::parallel
