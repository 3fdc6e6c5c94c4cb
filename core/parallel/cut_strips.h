#pragma once
#include <array>
#include <optional>
#include <vector>

#include "core/parallel/crease_sheets.h"
#include "core/parallel/trim_corner.h"
#include "core/parallel/trim_strip.h"

namespace tearline::parallel {

/// Where on the edge of a strip a vertex lies.
struct OnStrip {
    StripId strip;
    Side side = Side::left;
    double along = 0.0;  ///< [mm]
    bool fixed = false;  ///< on the mesh's own rim, or a tip: it cannot slide along the edge
};

/// What one sheet has of a corner: there the edges of two strips end.
struct OnCorner {
    CornerId corner;
    std::size_t foot = 0;         ///< of the corner's feet
    std::array<OnStrip, 2> ends;  ///< where the corner lies along each of the two edges
};

/// The sheets without what lies inside the strips; ridge vertices come in pairs.
struct CutSheets {
    PerId<TriangleId, std::array<CopyId, 3>> triangle;
    PerId<TriangleId, std::array<Vec3, 3>> corner_normal;  ///< the mesh's; stale where `on` is set
    PerId<CopyId, Vec2> chart;                             ///< [mm]
    PerId<CopyId, std::optional<OnStrip>> on;              ///< on the edge of a strip
    PerId<CopyId, std::optional<OnCorner>> corner;         ///< on a corner, and not `on`
    std::vector<std::array<CopyId, 2>> pairs;  ///< left copy, right copy of one ridge point

    /// A copy more at a chart point.
    CopyId add(const Vec2& point, std::optional<OnStrip> edge, std::optional<OnCorner> end = {});

    /// Where along an edge of a strip a copy lies, if it does.
    [[nodiscard]] std::optional<OnStrip> place_on(CopyId copy, StripId strip, Side side) const;
};

/// Cuts the strips out of the sheets and pairs the vertices of both edges of each strip, so that
/// the ridges can be welded.
///
/// @param ways  per line, as crease_ways() gave them
[[nodiscard]] CutSheets cut_strips(const BaseMesh& base, const CreaseSheets& sheets,
                                   const PerId<StripId, TrimStrip>& strips,
                                   const std::vector<std::vector<CreaseWay>>& ways,
                                   const PerId<CornerId, TrimCorner>& corners);

/// Pairs the two edges of every strip, adding vertices where one edge lacks the other's.
void pair_edges(CutSheets& cut, std::size_t strips);

}  // namespace tearline::parallel
