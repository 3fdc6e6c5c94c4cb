#pragma once
#include "core/base/packed_lists.h"
#include "core/parallel/corner_ends.h"

namespace tearline::parallel {

/// Strips being cut out of sheets: what lies in them is marked, what lies near their edges is moved
/// onto them, and the triangles across are clipped.
struct StripCut {
    StripCut(const BaseMesh& base, const CreaseSheets& sheets,
             const PerId<StripId, TrimStrip>& strips, const PerId<CornerId, TrimCorner>& corners);

    const BaseMesh& base;
    const CreaseSheets& sheets;
    const PerId<StripId, TrimStrip>& strips;
    const PerId<CornerId, TrimCorner>& corners;
    CornerEnds corner_ends;
    CutSheets cut;
    PerId<CopyId, std::optional<StripSide>> in;  ///< inside a strip
    PerId<CopyId, bool> rim;                     ///< on the mesh's own end
    PackedLists<CopyId, CopyId> links;           ///< across an edge
    PackedLists<CopyId, TriangleId> around;

    [[nodiscard]] bool on_edge(CopyId copy) const { return cut.on[copy] || cut.corner[copy]; }
    /// Whether an edge leads out of a strip.
    [[nodiscard]] bool leaves(CopyId a, CopyId b) const { return in[a] && !in[b] && !on_edge(b); }
    /// Shortest chart edge round a copy.
    [[nodiscard]] double shortest_link(CopyId copy) const;

    /// Where an edge leaves the strips for good.
    struct Leaving {
        StripSide mark;
        double share;  ///< [-] way along the edge
        double along;  ///< [mm]
    };
    [[nodiscard]] Leaving leaving(CopyId in, CopyId out) const;

    /// Makes a copy stand on a corner.
    void put_on_corner(CornerEnd& corner, CopyId copy);
};

/// Marks every vertex inside a strip, from the creases outwards.
void mark_inside(StripCut& cut, const std::vector<std::vector<CreaseWay>>& ways);

/// Moves vertices that lie near the strips' edges and corners onto them: no slivers are cut there.
void snap_to_edges(StripCut& cut, const std::vector<std::vector<CreaseWay>>& ways);

/// Clips the triangles across the strips' edges and leaves out those inside.
void clip_triangles(StripCut& cut);

}  // namespace tearline::parallel
