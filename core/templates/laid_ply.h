#pragma once
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/outline.h"
#include "core/job/job.h"
#include "core/pieces/piece.h"
#include "core/templates/template.h"

namespace tearline::templates {

/// One piece of a ply, on its lay surface and flat, with its template.
struct LaidPiece {
    pieces::Piece piece;
    Template outline;
};

/// One ply laid on the hull and flat on the table.
struct LaidPly {
    int number = 0;  ///< in the order of laying, from 1
    std::string fabric;
    job::FabricKind kind = job::FabricKind::mat;
    bool cover = false;
    job::Side side = job::Side::outside;  ///< the face it is laid from
    std::string part;                     ///< of a repair of several: "from inside", "inner skin"
    double thickness_mm = 0.0;
    double edge_offset_mm = 0.0;
    double lay_depth_mm = 0.0;
    std::vector<Region3> outlines_3d;  ///< [mm] on the base surface, cut where the hull ends
    double lap_mm = 0.0;  ///< over the hull's end, beyond the bend; 0: it does not go over it
    double surface_area_mm2 = 0.0;  ///< inside the net line on the lay surface
    /// Tightest radii of its lay surface seen from the laying side, 0 on an edge; none on a flat
    /// one.
    std::optional<double> convex_radius_mm, concave_radius_mm;
    /// [mm] how far its edge may be off, k = 2, where the hull is known by a scan.
    std::optional<double> edge_error_mm;
    std::vector<LaidPiece> pieces;
};

/// The piece of this name; none where there is none.
[[nodiscard]] const LaidPiece* piece_named(std::string_view id, std::span<const LaidPly> plies);

}  // namespace tearline::templates
