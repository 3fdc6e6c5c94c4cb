#pragma once
#include "core/parallel/cut_strips.h"
#include "core/parallel/parallel_surface.h"

namespace tearline::parallel {

/// One copy of a vertex: its own sheet's base point, and where it goes.
struct LaidCopy {
    Vec3 base{0, 0, 0};
    Vec3 normal{0, 0, 1};
    Vec2 chart{0, 0};
    double depth = 0.0;
    LayId vertex;
    bool moved = false;  ///< off the mesh's own vertex, to a ridge or a corner
};

/// What the surface at depth is put together from.
struct LayParts {
    const BaseMesh& base;
    const DepthAtChart& depth;
    const CreaseSheets& sheets;
    const PerId<StripId, TrimStrip>& strips;
    const PerId<CornerId, TrimCorner>& corners;
    const std::vector<std::vector<CreaseWay>>& ways;  ///< per line
    const CutSheets& cut;
};

/// The surface at depth while it is put together.
struct LayDraft {
    ParallelSurface out;
    PerId<CopyId, LaidCopy> copies;
    std::vector<std::array<CopyId, 3>> sheet_of;  ///< per triangle of `out`: none on arcs

    LayId add_vertex(const Vec3& lay, const Vec3& base, const Vec2& chart);
    /// Adds a triangle with three different corners.
    /// @param copies  its corners on a sheet; nothing on an arc
    void add_triangle(const std::array<LayId, 3>& vertices, const std::array<Vec3, 3>& normals,
                      const std::array<Vec2, 3>& chart,
                      const std::optional<std::array<CopyId, 3>>& copies);
};

/// The cut sheets at depth, welded at corners, ridges and mitres.
[[nodiscard]] LayDraft weld_sheets(const LayParts& parts);

/// Fills the arcs between the sheets of creases that open.
void open_arcs(const LayParts& parts, LayDraft& draft);

/// Leaves out what no triangle uses, sets normals, marks two-sided edges and measures lengths.
/// @error no_safe_answer  a triangle lies upside down at depth
[[nodiscard]] Result<ParallelSurface> finished(LayDraft draft, const DepthAtChart& depth);

}  // namespace tearline::parallel
