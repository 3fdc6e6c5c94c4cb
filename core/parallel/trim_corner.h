#pragma once
#include <vector>

#include "core/parallel/ridge.h"
#include "core/parallel/trim_strip.h"

namespace tearline::parallel {

/// What one sheet has of a corner.
struct CornerFoot {
    CopyId copy;     ///< the sheet's copy of the vertex where the creases meet
    SheetFoot foot;  ///< its base point under the corner at depth
};

/// The point at depth where the ridges of three or more trimmed creases meet.
struct TrimCorner {
    VertexId vertex;               ///< of the mesh: where the creases meet
    Vec3 position{0, 0, 0};        ///< [mm] at depth
    std::vector<CornerFoot> feet;  ///< one a sheet

    /// The foot on the sheet of a copy.
    [[nodiscard]] const SheetFoot& foot_of(CopyId copy) const;
};

/// The corners of a mesh: vertices at which three or more creases end, every one of them trimmed.
///
/// @param ways  per line, as crease_ways() gave them
[[nodiscard]] PerId<CornerId, TrimCorner> trim_corners(
    const BaseMesh& base, const CreaseSheets& sheets,
    const std::vector<std::vector<CreaseWay>>& ways, const DepthAtChart& depth);

}  // namespace tearline::parallel
